"""Setup numbers from one photo: the ground plane, what stands on it, and how sure each number is."""
