"""The forms that stand on a page, as a browser would send them: a form is tried because it is there, not because
somebody thought of it."""

from dataclasses import dataclass, field
from html.parser import HTMLParser
from urllib.parse import urljoin, urlsplit

PLAUSIBLE = {"date": "2027-03-04", "datetime-local": "2027-03-04T10:00", "time": "10:00", "email": "a@b.example",
             "file": "", "checkbox": "", "radio": ""}


@dataclass
class PageForm:
    """A posting form: where it goes, and what stands in it."""

    address: str
    fields: dict[str, str] = field(default_factory=dict)
    buttons: list[tuple[str, str]] = field(default_factory=list)
    kinds: dict[str, str] = field(default_factory=dict)

    def filled(self) -> dict[str, str]:
        """Return what somebody would send who fills every empty box with something that fits."""
        typed = {name: value or PLAUSIBLE.get(self.kinds[name], "7") for name, value in self.fields.items()}
        return {**typed, **dict(self.buttons[:1])}


class _Reader(HTMLParser):
    def __init__(self, address: str) -> None:
        super().__init__()
        self.address, self.named, self.forms = address, {}, []
        self.open: PageForm | None = None
        self.select = ""

    def handle_starttag(self, tag, attrs):
        got = {name: value or "" for name, value in attrs}
        if tag == "form":
            self.open = self._form(got) if got.get("method", "").lower() == "post" else None
        form = self.named.get(got.get("form"), self.open)
        if form is None:
            return
        if tag == "option" and self.select:
            if "selected" in got or not form.fields[self.select]:
                form.fields[self.select] = got.get("value", "")
        elif got.get("name") and tag in {"input", "select", "textarea", "button"}:
            self._field(form, tag, got)

    def _form(self, got):
        form = PageForm(urlsplit(urljoin(self.address, got.get("action") or self.address)).path)
        self.forms.append(form)
        self.named[got.get("id")] = form
        return form

    def _field(self, form, tag, got):
        name, kind, value = got["name"], got.get("type", "submit" if tag == "button" else "text"), got.get("value", "")
        if kind in {"submit", "image", "button"}:
            form.buttons.append((name, value))
        elif kind in {"radio", "checkbox"}:
            form.fields.setdefault(name, value or "on")
        elif name != "csrfmiddlewaretoken":
            form.fields[name] = value
        form.kinds[name] = kind
        self.select = name if tag == "select" else self.select

    def handle_endtag(self, tag):
        if tag == "form":
            self.open = None
        if tag == "select":
            self.select = ""


def forms_on(html: str, address: str) -> list[PageForm]:
    """Return the posting forms of a page."""
    reader = _Reader(address)
    reader.feed(html)
    return reader.forms
