"""Read a shot file and say what it shows. Touches no database."""

import argparse
import json
from pathlib import Path

from django.core.management.base import BaseCommand, CommandError, CommandParser

from lessons.analyse.as_json import analysis_as_dict
from lessons.analyse.as_words import analysis_as_words
from lessons.analyse.beside import Beside, read_beside
from lessons.analyse.column_map import read_column_map
from lessons.analyse.run import File, Request, analyse
from lessons.imports import MAX_BYTES, ImportRefusal, UnreadableFile
from lessons.library import shipped_library
from metrics.levels import LEVELS

_HELP = """
Reads a delimited text or an .xlsx workbook, finds its columns, and prints for each club the numbers, at most
two findings, the setup checks to make and the drills. Nothing is stored; no database is opened.
"""
_EPILOG = """
MAP.json:  {"carry_m": "Carry (yd)", "club_speed_mps": {"heading": "Speed", "unit": "mph"}}
  Fields as in the JSON output, and club, player, when, date, time. With a map, only its number columns are
  read; club, player and date columns are still found by themselves.

BESIDE.json, every key may be left out:
         {"setup": {"feet_deg": 7, "ball_position_cm": 7}, "calls": [{"start": "right", "curve": "left",
          "height": "high", "contact": "clean", "done": true}], "pain": 0, "sore": ["low_back"], "new_pain": false,
          "red_flag": false, "wind_mps": 3, "windy": false, "on_tee": true, "full_effort": true, "target_m": 45,
          "usual": {"carry_m": 140}, "seen_before": ["over_draw"],
          "moved": {"checkpoint": "ball_position_cm", "before": 5, "after": 0.7}}
  One entry of calls a ball; sides are right and left of the target: start is right, left or line, curve is
  right, left, hard right, hard left or none. Without FILE the calls are all there is, and --club says with what.

--json:  {"file": {"rows", "balls", "columns": {field: heading},
                   "problems": [{"row", "column", "text", "expected"}]},
          "blocks": [{"club", "n", "numbers": {field: {"mean", "sd", "n", "interval95": [lo, hi], "unit"}},
                      "gate": null or {"key", "text", "offers"},
                      "findings": [{"pattern", "state", "evidence", "checks": [{"checkpoint", "window",
                                    "reason", "value", "then_check"}], "drills": [slug], "raised_by_setup",
                                    "title", "explain", "caveat", "own_goal", "would_change", "warnings",
                                    "why_not"}],
                      "in_window", "watching", "needs", "warnings", "notes": [sentence],
                      "considered": {pattern: {"state", "reason"}}}]}
  One block a club; "club" is its category. Values in SI, degrees and rpm; + is the player's slice side.

Exit code 0: read, even if single rows were set aside (they are listed). 2: nothing could be read, or
something has to be said first; a sentence on standard error says what.
"""


class Command(BaseCommand):
    help = _HELP
    requires_system_checks: list[str] = []  # A check may open the database; this command must not.

    def create_parser(self, prog_name: str, subcommand: str, **kwargs) -> CommandParser:
        return super().create_parser(prog_name, subcommand, epilog=_EPILOG,
                                     formatter_class=argparse.RawDescriptionHelpFormatter, **kwargs)

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("file", metavar="FILE", type=Path, nargs="?")
        parser.add_argument("--club", help="the club where the file names none: a name (7i) or a category (driver). "
                            "Clubs that the file names itself stay as they are, one block each")
        parser.add_argument("--only-club", action="store_true", help="of a file with several clubs, only --club")
        parser.add_argument("--hand", required=True, choices=["right", "left"], help="the player's hand")
        parser.add_argument("--intent", required=True, choices=["straight", "draw", "fade"])
        parser.add_argument("--aids", default="none", help="aids on the ground, parted by commas; or none")
        parser.add_argument("--level", type=_level, help=f"handicap index, or {', '.join(LEVELS)}")
        parser.add_argument("--file-sign", default="right", choices=["right", "player"],
                            help="what + means in the file's directions: right of the target for everybody "
                            "(default), or the player's own slice side")
        parser.add_argument("--columns", metavar="MAP.json", type=Path, help="which column is which; see below")
        parser.add_argument("--player", help="whose balls, where the file holds several players")
        parser.add_argument("--decimal", choices=[".", ","], help="the decimal mark, where the file leaves it open")
        parser.add_argument("--beside", metavar="BESIDE.json", type=Path,
                            help="what is known beside the balls: setup, calls, pain, wind; see below")
        parser.add_argument("--with-aids", metavar="FILE", type=Path,
                            help="the balls of the same visit with the aids down, to compare with")
        parser.add_argument("--before", metavar="FILE", type=Path,
                            help="the balls before the setup change that --beside names under moved")
        parser.add_argument("--json", action="store_true", help="print JSON instead of words")

    def handle(self, *args, **options) -> None:
        try:
            request = _request(options)
            library = shipped_library()
            analysis = analyse(_file(options["file"]), request=request, library=library)
        except ImportRefusal as refusal:
            raise CommandError(str(refusal), returncode=2) from None
        if options["json"]:
            for match in analysis.balls.proposal.matches.values() if analysis.balls else ():
                if "no unit stated" in match.why and match.unit not in ("°", "rpm", "s", ""):
                    self.stderr.write(f"{match.why}.")
            self.stdout.write(json.dumps(analysis_as_dict(analysis), allow_nan=False, ensure_ascii=False, indent=2))
        else:
            self.stdout.write(analysis_as_words(analysis, library=library))


def _request(options: dict) -> Request:
    if options["only_club"] and not options["club"]:
        raise UnreadableFile("--only-club needs --club: which club is meant?")
    aids = tuple(word for word in (part.strip() for part in options["aids"].split(",")) if word and word != "none")
    return Request(
        hand=options["hand"], intent=options["intent"], club=options["club"], aids=aids, level=options["level"],
        file_sign=options["file_sign"], player=options["player"], only_club=options["only_club"],
        decimal=options["decimal"], columns=read_column_map(options["columns"]) if options["columns"] else {},
        beside=read_beside(options["beside"], hand=options["hand"]) if options["beside"] else Beside(),
        with_aids=_file(options["with_aids"]), before=_file(options["before"]))


def _level(text: str) -> float | str:
    """Return a handicap index, or the name of a level."""
    if text in LEVELS:
        return text
    try:
        index = float(text.replace(",", "."))
    except ValueError:
        raise argparse.ArgumentTypeError(f"“{text}” is neither a handicap index nor one of {', '.join(LEVELS)}"
                                         ) from None
    if not -10 <= index <= 54:
        raise argparse.ArgumentTypeError(f"a handicap index lies between −10 and 54, not at {text}")
    return index


def _file(path: Path | None) -> File | None:
    return File(data=_read(path), name=path.name) if path else None


def _read(path: Path) -> bytes:
    try:
        if path.stat().st_size > MAX_BYTES:
            raise UnreadableFile(f"{path.name} has {path.stat().st_size / 1e6:,.0f} MB; at most "
                                 f"{MAX_BYTES / 1e6:,.0f} MB can be read at once.")
        return path.read_bytes()
    except OSError as error:
        raise UnreadableFile(f"{path} cannot be opened: {error.strerror}.") from None
