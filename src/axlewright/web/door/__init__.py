"""The shop's door to the local network: who may come in, by what they prove it, and what is listened to."""
