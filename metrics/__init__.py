"""The numbers of a golf lesson, pure: values in, values out. No Django, no files, no clock."""
