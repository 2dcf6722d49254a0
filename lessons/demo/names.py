"""Invented people. First and family names are put together by chance; none is a real person."""

import random

FIRST = (
    "Edda", "Mara", "Tilo", "Ravi", "Nadia", "Bea", "Ilya", "Oskar", "Livia", "Teun", "Amara", "Jory", "Signe",
    "Kofi", "Petra", "Lorcan", "Yuna", "Matteo", "Freya", "Dara", "Anselm", "Noor", "Gwen", "Tomasz", "Ines",
    "Callum", "Rosa", "Henrik", "Leila", "Bram", "Odile", "Samir", "Greta", "Niall", "Zofia", "Elio", "Hanne",
    "Pavel", "Maeve", "Idris", "Clara", "Joost", "Sanna", "Rurik", "Fenna", "Aldo", "Thea", "Emre", "Una", "Viggo",
)
FAMILY = (
    "Marlow-Finch", "Averill", "Brekkan", "Castellow", "Dunmoor", "Eskilby", "Farrowgate", "Grindlay-Moss",
    "Halloran-Reed", "Iversholm", "Jessamy", "Kettleby", "Lindqvale", "Morrowdale", "Nettlefold", "Oakenshaw",
    "Pellinore", "Quillfeather", "Rosthwaite-Ney", "Sundlof", "Tarnbeck", "Underhay", "Vossberg", "Wetherlam",
    "Yarrowby", "Zellwood", "Ashgrove", "Birkmyre", "Corran", "Drumlin", "Elderfen", "Fossdyke",
)
GOALS = (
    "Start the ball on the chosen side", "Aim the face before the feet", "Stand to the ball the same way each time",
    "Finish in balance and hold it", "Brush the ground after the ball", "Keep the driver in play",
)
WORDS = (
    "my right side is in the way", "I come over the top", "I cut across it", "I look up", "I grip too hard",
    "I swing too fast", "I aim fine, I just miss", "no idea, it comes and goes",
)


def invent_names(*, rng: random.Random, count: int) -> list[str]:
    """Return that many different full names."""
    pairs = [(first, family) for first in FIRST for family in FAMILY]
    rng.shuffle(pairs)
    return [f"{first} {family}" for first, family in pairs[:count]]
