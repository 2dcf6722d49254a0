"""Template filters and tags that every page may use without loading them."""

from django import template

register = template.Library()
