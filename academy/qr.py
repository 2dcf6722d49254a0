"""QR codes as inline SVG, made on this machine."""

import segno
from django.utils.html import escape
from django.utils.safestring import SafeString


def qr_svg(*, text: str, label: str = "QR code of the link") -> SafeString:
    """Return a QR code as an inline SVG element, dark on white in both themes, with its own quiet zone.

    The SVG holds only numbers and fixed names that segno writes, never the text itself, so it is safe markup.
    """
    code = segno.make(text, error="m", micro=False)
    drawn = code.svg_inline(border=4, dark="#000", light="#fff", omitsize=True, svgclass="qr", lineclass=None)
    return SafeString(drawn.replace("<svg ", f'<svg role="img" aria-label="{escape(label)}" ', 1))
