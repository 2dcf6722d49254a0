"""Invented people. First and family names are put together by counting; none is a real person."""

import random

FIRST = (
    "Edda", "Tilo", "Yuna", "Matteo", "Freya", "Dara", "Anselm", "Noor", "Gwen", "Callum", "Rosa", "Henrik", "Leila",
    "Bram", "Odile", "Samir", "Greta", "Niall", "Zofia", "Elio", "Hanne", "Pavel", "Maeve", "Idris", "Clara", "Joost",
    "Sanna", "Rurik", "Fenna", "Aldo", "Thea", "Emre", "Una", "Viggo", "Priya", "Caspar", "Adaeze", "Lucan", "Mei",
    "Torben", "Safiya", "Orrin", "Danuta", "Kwame", "Isolde", "Ruben", "Anouk", "Hamza", "Birgit", "Cormac", "Lalita",
    "Enzo", "Vesna", "Tobias", "Amina", "Ewan", "Katya", "Diego", "Sunniva", "Arjun", "Marit", "Femi", "Louisa",
    "Goran", "Hiroko", "Alasdair", "Paloma", "Stellan", "Zainab", "Felix", "Ingrid", "Tariq", "Nell", "Jarek",
    "Chiara",
    "Olu", "Saskia", "Dmitri", "Wren", "Ismet",
)
FAMILY = (
    "Marlow", "Morrowdale", "Nettlefold", "Oakenshaw", "Pellinore", "Quillfeather", "Rosthwaite", "Sundlof",
    "Tarnbeck",
    "Underhay", "Vossberg", "Wetherlam", "Yarrowby", "Zellwood", "Ashgrove", "Birkmyre", "Corran", "Drumlin",
    "Elderfen", "Fossdyke", "Gallowmere", "Hollinside", "Inchmorrow", "Jarnvik", "Kessingholt", "Larkenby", "Mossburn",
    "Norrskog", "Ottersey", "Penhallick", "Quenby", "Ravnsborg", "Sallowfield", "Thornabee", "Ullamby", "Vintergate",
    "Wolderby", "Yewcross", "Amberlund", "Bracewater", "Cloverdyke", "Dunsaffron", "Eastermoor", "Fjellstad",
    "Grenholt", "Harrowfen", "Isleworthy", "Junivall", "Kelderhaus", "Lindenrath", "Marchbanke", "Nocturne-Bell",
    "Oldacre", "Pommeroy-Ash", "Rimmersvik", "Saltonhaugh", "Tollemere", "Umberleigh", "Varnholme", "Westerlode",
    "Yarmoth", "Zandervelt", "Adeyinsola", "Bhattarcharn", "Castelnori", "Dellabruna", "Etxeburu", "Farahzand",
    "Guldenmark", "Hoshikawara", "Iwerebon", "Jadranovic", "Kowalczar", "Lakshminor", "Mbengalu", "Novaczek",
    "Okonjira",
)
PARENTS = (
    "Ada", "Milo", "Runa-Lis", "Tess", "Gunnar", "Yasmin", "Peadar", "Solveig", "Nikhil", "Carys", "Bogdan", "Estelle",
    "Lars", "Ngozi", "Renzo", "Ailsa",
)


def invent_names(*, rng: random.Random, count: int) -> list[str]:
    """Return that many different full names, no first name twice before all were used once.

    The lists are as long as two numbers without a common divisor, so counting through both at once repeats no pair
    before their product.
    """
    first, family = rng.sample(FIRST, len(FIRST)), rng.sample(FAMILY, len(FAMILY))
    return [f"{first[i % len(first)]} {family[i % len(family)]}" for i in range(count)]
