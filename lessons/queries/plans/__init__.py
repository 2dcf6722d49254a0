"""What plans are made from, and their pages. The planner itself is pure: metrics.plans."""
