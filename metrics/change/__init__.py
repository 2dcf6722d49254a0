"""Did it hold? What two visits, taken together, honestly say about a change."""
