"""What does the mouth do for each sound of a counted word, and in which order?

A phone has three formants at its start and, where it glides, at its end; how much of the voice comes through; and the
noise that is made in it. Formants of vowels: men's means of G. E. Peterson and H. L. Barney, "Control methods used in a
study of the vowels", J. Acoust. Soc. Am. 24 (1952), table II; those of gliding vowels and of consonants: D. H. Klatt,
"Software for a cascade/parallel formant synthesizer", J. Acoust. Soc. Am. 67 (1980), tables II and III. Where the noise
of f, th and s lies: A. Jongman, R. Wayland and S. Wong, J. Acoust. Soc. Am. 108 (2000), spectral peaks of about 7.7,
7.5 and 6.8 kHz, s steeply falling below 4 kHz, f and th flat. Bursts, K. N. Stevens, Acoustic Phonetics (1998), chapter
7: p falls with frequency, t is highest above 3 kHz, k is one peak near the second formant. The nasal murmur has its
first formant near 280 Hz (same book, chapter 9). Levels and lengths of time are our choice.
"""

from __future__ import annotations

from typing import NamedTuple

from .modes import Points

Formants = tuple[float, float, float]

SILENT = -90.0  # decibels: no voice


class Phone(NamedTuple):
    """One sound of a word: formants in hertz and, of a glide, those at its end; the voice in decibels under a vowel's;
    the noise in decibels under a vowel's and its spectrum; and whether a closed mouth opens with that noise."""

    formants: Formants
    glide: Formants | None = None
    voice: float = 0.0
    noise: float = SILENT
    spectrum: Points = ()
    stop: bool = False
    nasal: bool = False


_HISS: Points = ((1000, -45), (3000, -30), (4200, -8), (5500, -1), (6800, 0), (9500, -4), (13000, -14), (18000, -30))
_FLAT: Points = ((300, -30), (1200, -9), (3000, -6), (7500, 0), (10000, -3), (14000, -14), (18000, -30))
_LIP: Points = ((200, -12), (500, 0), (1500, -3), (4000, -12), (9000, -25))
_TIP: Points = ((800, -30), (2200, -12), (3600, 0), (6000, -1), (9000, -9), (14000, -25))
_BACK: Points = ((500, -25), (1400, -8), (2000, 0), (2700, -4), (4500, -14), (9000, -28))

PHONES: dict[str, Phone] = {
    "ee": Phone((270, 2290, 3010)),
    "i": Phone((390, 1990, 2550)),
    "e": Phone((530, 1840, 2480)),
    "a": Phone((660, 1720, 2410)),
    "o": Phone((570, 840, 2410)),
    "u": Phone((640, 1190, 2390)),
    "oo": Phone((300, 870, 2240)),
    "er": Phone((490, 1350, 1690)),
    "ay": Phone((480, 1720, 2520), (330, 2020, 2600)),
    "eye": Phone((660, 1200, 2550), (400, 1880, 2500)),
    "w": Phone((290, 610, 2150), voice=-12),
    "r": Phone((310, 1060, 1380), voice=-9),
    "l": Phone((310, 1050, 2880), voice=-11),
    "n": Phone((280, 1340, 2470), voice=-9, nasal=True),
    "v": Phone((220, 1100, 2080), voice=-12, noise=-30, spectrum=_FLAT),
    "f": Phone((340, 1100, 2080), voice=SILENT, noise=-19, spectrum=_FLAT),
    "th": Phone((320, 1290, 2540), voice=SILENT, noise=-21, spectrum=_FLAT),
    "s": Phone((320, 1390, 2530), voice=SILENT, noise=-11, spectrum=_HISS),
    "p": Phone((400, 1100, 2150), voice=SILENT, noise=-17, spectrum=_LIP, stop=True),
    "t": Phone((400, 1600, 2600), voice=SILENT, noise=-12, spectrum=_TIP, stop=True),
    "k": Phone((300, 1990, 2850), voice=SILENT, noise=-13, spectrum=_BACK, stop=True),
    "": Phone((400, 1500, 2500), voice=SILENT),  # the mouth before a stop opens, or before a word begins with its vowel
}
VOWELS = ("ee", "i", "e", "a", "o", "u", "oo", "er", "ay", "eye")

# A word as phones and milliseconds. Before a first vowel there are 10 ms in which the folds open for the first time.
# They are as short as a counting drummer says them: at most 230 ms, sev'n, 'lev'n.
WORDS: dict[str, tuple[tuple[str, int], ...]] = {
    "1": (("w", 50), ("u", 95), ("n", 65)),
    "2": (("t", 40), ("oo", 140)),
    "3": (("th", 60), ("r", 30), ("ee", 120)),
    "4": (("f", 60), ("o", 90), ("r", 60)),
    "5": (("f", 60), ("eye", 115), ("v", 40)),
    "6": (("s", 70), ("i", 65), ("", 25), ("k", 15), ("s", 45)),
    "7": (("s", 60), ("e", 65), ("v", 30), ("n", 60)),
    "8": (("", 10), ("ay", 130), ("", 30), ("t", 25)),
    "9": (("n", 50), ("eye", 105), ("n", 50)),
    "10": (("t", 40), ("e", 90), ("n", 70)),
    "11": (("l", 40), ("e", 65), ("v", 35), ("n", 70)),
    "12": (("t", 30), ("w", 30), ("e", 65), ("l", 50), ("v", 40)),
    "13": (("th", 50), ("er", 65), ("", 10), ("t", 25), ("ee", 45), ("n", 30)),
    "14": (("f", 50), ("o", 45), ("r", 25), ("", 10), ("t", 25), ("ee", 45), ("n", 30)),
    "15": (("f", 50), ("i", 45), ("f", 30), ("t", 25), ("ee", 45), ("n", 30)),
    "e": (("", 10), ("ee", 110)),
    "&": (("", 10), ("a", 80), ("n", 60)),
    "a": (("", 10), ("u", 100)),
    "trip": (("t", 20), ("r", 20), ("i", 55), ("", 25), ("p", 12)),
    "let": (("l", 30), ("e", 60), ("", 25), ("t", 20)),
}


def lead(word: str) -> int:
    """Milliseconds of a word before its first vowel, which is what falls on the beat: whole tens of them."""
    total = 0
    for phone, length in WORDS[word]:
        if phone in VOWELS:
            break
        total += length
    return total
