"""What is said and written in the demo, many ways, so that no two notes read alike."""

import random

FELT = {
    "feet_deg": "Feet from {now} to {goal}", "shoulders_deg": "Shoulders from {now} to {goal}",
    "ball_position_cm": "Ball from {now} to {goal}", "lead_knuckles": "Lead hand from {now} to {goal} knuckles",
    "hand_thigh_cm": "Hands from {now} cm to {goal} cm off the thigh",
    "lead_weight_pct": "Weight on the lead foot from {now} to {goal} %",
    "handle_ahead_cm": "Hands from {now} to {goal} cm ahead of the ball",
}
KEPT = (
    "The first ten held what we built. Stay with it: “{cue}”.",
    "It was there before I said a word. Same one thing: “{cue}”.",
    "Held since last time. We took the help away sooner today; “{cue}” is enough.",
    "Good first ten. Now mix targets and keep “{cue}” in the routine.",
    "You came back with it. Next step is the same feel when the club changes: “{cue}”.",
)
PARTLY = (
    "Half of it was still there. Less help from me, shorter practice, more often: “{cue}”.",
    "Some balls had it, some did not. Five with “{cue}”, five without thinking, and note which.",
    "It comes and goes, as it should at this stage. Keep “{cue}”, ten minutes at a time.",
    "Better on the third ball than on the first: start each practice with “{cue}” and a rehearsal.",
)
LOST = (
    "The old way was back at the start; that is normal between lessons. Same one thing: “{cue}”.",
    "Not there in the first ten. We looked at the setup again, and it is the same one thing: “{cue}”.",
    "It did not keep this time. Ten minutes, three times a week, beats one long hour: “{cue}”.",
    "Today started where last time started. Let us find out whether “{cue}” is the right picture for you.",
)
AIDED = (
    "With the sticks down it is yours, without them not yet. Guess the line first, then lay the stick: “{cue}”.",
    "The swing can do it; the aim is not yours yet. Five with, five without, in turns.",
)
NEW = (
    "We changed one thing: {change}. Feel for it: “{cue}”.", "One thing to take home. {change}; think “{cue}”.",
    "{change}. That is all. “{cue}”, and let the ball go where it goes for a week.",
    "The setup comes before the swing: {change}. Your words for it: “{cue}”.",
)
PRIVATE = (
    "Answers well to a picture, not to numbers.", "Short on time before holidays; keep it to one club.",
    "Talks a lot when nervous: begin with ten balls and no questions.", "Wants reasons. Show the board first.",
    "Do not mention the score.", "Ask about the new shift pattern, it decides the practice.",
    "Try the transfer block earlier next time.", "Fade the sticks faster.", "Good listener, over-tries after praise.",
    "Would like to play nine holes with me in spring.", "Check the grip size before blaming the release.",
    "Left the cue alone today and it got better.",
)
PLAYED = (
    "Nine holes on Sunday, drove it well", "Not played", "Monthly medal, two lost balls",
    "Eighteen with friends, enjoyed it",
    "Only the range", "Foursomes, putted poorly", "Twice at the short course", "Played in the wind, lost patience",
    "Seniors’ day, fewest putts for a year", "Holiday golf, three rounds", "Club match, lost on the last",
    "Team day in the rain", "Winter league, mats on the fairway", "Nine holes before work",
)
QUESTIONS = (
    ("Should the ball be in the same place for the five wood?", "Two fingers further back, everything else the same."),
    ("I can only get to the range once this week. Which drill?", "The second one. Ten minutes are plenty."),
    ("It went the other way on Saturday. Do I carry on?",
     "Carry on. One bad day says little; we look again at the first ten."),
    ("Does the mirror at home count as practice?", "It counts. Tick it."),
    ("My new glove is a size down, could that be it?", "Hardly. Bring it along, we look at the grip pressure first."),
    ("Is it all right to do the drill with a short iron?",
     "Yes, and go back to the first club for the last five balls."),
    ("Could we move to the grass next time?", "Gladly. I have put the grass tee in the diary."),
    ("How many balls are enough on a weekday evening?", "Thirty good ones beat a hundred."),
    ("Do I look at the ball or at the spot in front of it?", "The spot until you stand, the ball from then on."),
    ("My playing partner says my tempo is too slow. Is it?", "No. Leave it, one thing at a time."),
)
MEASURES = (
    "Ten {club} balls, no aids, before any advice", "First ten with the {club}, nothing said",
    "Ten {club} balls to one target, numbers hidden",
)
OUTCOMES = (
    "Break {score} before the autumn", "Play the medal without a lost ball",
    "Two handicap strokes by the end of the season",
    "Nine holes with my daughter and no stress", "Enjoy the society trip", "A steady tee shot on the first",
    "Halve the three-putts", "Make the second team", "Walk eighteen again and swing freely",
)
CANCELLED = ("Work ran over", "Family came first", "Car would not start", "Away a day longer", "Asked to move it", "")


def change_words(*, checkpoint: str, now: float, goal: float) -> str:
    """Return the one change as a coach writes it."""
    if checkpoint.endswith("_deg"):
        return FELT[checkpoint].format(now=_line(now), goal=_line(goal))
    if checkpoint == "ball_position_cm":
        return FELT[checkpoint].format(now=_heel(now), goal=_heel(goal))
    return FELT[checkpoint].format(now=_plain(now), goal=_plain(goal))


def note(rng: random.Random, *, share: float, needs_aids: bool, cue: str) -> str:
    """Return what the student reads after a return visit, by how much of the gain was there."""
    pool = AIDED if needs_aids else KEPT if share >= 0.65 else PARTLY if share >= 0.25 else LOST
    return rng.choice(pool).format(cue=cue)


def _line(value: float) -> str:
    if abs(value) < 1.5:
        return "square"
    return f"{abs(value):.0f}° {'closed' if value > 0 else 'open'}"


def _heel(value: float) -> str:
    if abs(value) < 0.75:
        return "level with the lead heel"
    return f"{abs(value):.0f} cm {'inside' if value > 0 else 'ahead of'} the lead heel"


def _plain(value: float) -> str:
    whole, half = int(value), value % 1 == 0.5
    return f"{whole or ''}½" if half and value > 0 else f"{value:.0f}".replace("-", "−")
