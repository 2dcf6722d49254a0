"""A shot file read, judged and put into words or JSON without a database: the command ``analyse``."""
