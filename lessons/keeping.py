"""How long this room keeps what is nobody's record: added to academy.keeping when the program starts."""

from academy.keeping import Line, register

from .models import LiveBall, Prepared

register(Line(
    key="discarded", what="Balls from a device that were discarded", why="So that it can be undone", days=30,
    end=lambda moment: LiveBall.objects.filter(removed_at__lt=moment).delete()[0],
))
register(Line(
    key="unclaimed", what="Balls from a device that nobody assigned", why="They wait in the inbox", days=365,
    end=lambda moment: LiveBall.objects.filter(shot=None, hit_at__lt=moment).delete()[0],
))
register(Line(
    key="prepared", what="Numbers and words made ready for a page", why="So that the page opens at once",
    days=30, end=lambda moment: Prepared.objects.filter(made_at__lt=moment).delete()[0],
))
