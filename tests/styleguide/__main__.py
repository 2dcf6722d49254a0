"""Write the style guide: every component and picture with the real style sheet, as pages to look at.

    python -m tests.styleguide OUTDIR && python -m http.server -d OUTDIR
"""

import os
import shutil
import sys
from pathlib import Path
from types import SimpleNamespace

HERE = Path(__file__).resolve().parent
ROOT = HERE.parent.parent


class _Person(SimpleNamespace):
    def __str__(self) -> str:
        return self.name


def render(name: str) -> str:
    """Render one page of the guide with invented people and no database."""
    from django.template import engines

    from .samples import pictures

    source = (HERE / "pages" / f"{name}.html").read_text(encoding="utf-8")
    person = _Person(name="Noor Halden", is_authenticated=True, is_owner=True)
    context = {
        "academy": SimpleNamespace(name="Saltmarsh Range", language="en", is_demo=True),
        "request": SimpleNamespace(user=person, path="/"),
        "pictures": pictures(),
    }
    return engines["django"].from_string(source).render(context)


def write(out: Path) -> list[Path]:
    """Write all pages and the static files they need into ``out``."""
    import django_htmx

    out.mkdir(parents=True, exist_ok=True)
    static = out / "static"
    for part in ("css", "js", "mark.svg"):
        source = ROOT / "static" / part
        if source.is_dir():
            shutil.copytree(source, static / part, dirs_exist_ok=True)
        else:
            shutil.copy(source, static / part)
    shutil.copytree(Path(django_htmx.__file__).parent / "static", static, dirs_exist_ok=True)
    written = []
    for page in sorted((HERE / "pages").glob("*.html")):
        target = out / page.name
        target.write_text(render(page.stem), encoding="utf-8")
        written.append(target)
    return written


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit("Expected one folder to write into: python -m tests.styleguide OUTDIR")
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "tests.settings")
    import django

    django.setup()
    for path in write(Path(sys.argv[1])):
        print(path)
