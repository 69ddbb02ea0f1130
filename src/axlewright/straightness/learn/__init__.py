"""What before and after, or a trial on scrap tube, teach about the shop."""
