"""Plans, predicts and documents the welding of reinforcements onto solid front axle housings."""

__version__ = "0.1.0"
