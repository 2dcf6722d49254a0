"""Did it hold? One number over all visits: the verdict, what stands beside it, the pictures and the table."""
