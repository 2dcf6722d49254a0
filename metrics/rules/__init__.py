"""The rules: from the balls and the setup of one block to at most two findings, with their reasons."""
