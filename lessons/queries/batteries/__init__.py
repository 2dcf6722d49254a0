"""The test battery: when it is due, how far it is, and two of them side by side."""
