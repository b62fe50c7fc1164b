"""How are several ways kept beside each other, a family of grooves from one base?

The main way is `groove.variations`: what is drawn, played and linked. Every branch is another way: it shares the main
way up to the variation with the key `after` (0: only the base beat) and goes on with variations of its own.

A change to what ways share is a change of them all; but no way loses anything because something was moved, or because
the main way was exchanged for another. Where the place that a way leaves from is swapped out of the main way, the way
leaves earlier and takes along what it shared, as copies with new keys. When the original comes to stand there again,
it is shared again. A copy is known by its age: it does the same as the original, is younger than it, and is younger
than a variation after it, which was there when it was made.

The main way has no name. While ways are called "Way 1" and so on, it is the first number that is missing, so that
names stay when ways are exchanged. A name given by hand goes to the first variation of the way's own when it
becomes the main way, and comes back from there.
"""

from __future__ import annotations

from dataclasses import replace

from ..errors import VariationError
from ..model.groove import MAX_BRANCHES, MAX_NAME, MAX_VARIATIONS, Branch, Groove, Variation, check_text

AUTOMATIC = "Way "
# Keys up to here are read in a groove file; beyond it the document could not be opened again.
MOST_KEYS = 100_000

Row = tuple[Variation, ...]


def way(groove: Groove, index: int) -> Row:
    """All variations of a way, those that it shares with the main way first."""
    branch = _branch(groove, index)
    return groove.variations[: _end(groove, branch.after)] + branch.variations


def fork(groove: Groove, after: int) -> Groove:
    """Keep what comes after a stage as a branch, and let the main way end there, to go on anew.

    `after` is the key of a variation, 0 for the base beat.
    """
    at = _end(groove, after)
    rest = groove.variations[at:]
    if not rest:
        raise VariationError("nothing comes after this stage yet, so there is no way to keep; add a variation")
    if len(groove.branches) >= MAX_BRANCHES:
        raise VariationError(f"a groove keeps at most {MAX_BRANCHES} other ways; delete one of them first")
    kept = Branch(_name(rest, groove), after, rest)
    bare = _replant(groove, at, ())
    return _joined(replace(bare, branches=(*bare.branches, kept)))


def exchange(groove: Groove, index: int) -> Groove:
    """Make a branch the main way; the way that it replaces becomes a branch in its place.

    Exchanging them once more gives the same ways; the same document, but for names and numbers of copies, as long as
    the main way holds no copies itself. A main way that ends where the branch leaves is the beginning of it, and needs
    no branch.
    """
    branch = _branch(groove, index)
    at = _end(groove, branch.after)
    rest = groove.variations[at:]
    back = Branch(_name(rest, groove), branch.after, rest)
    new = _replant(groove, at, _called(branch), leaving=index)
    row = list(new.branches)
    if rest:
        row.insert(index, back)
    return _joined(replace(new, branches=tuple(row)))


def part(groove: Groove, index: int) -> Groove:
    """Part with a branch: it is gone, and nothing else changes."""
    _branch(groove, index)
    return replace(groove, branches=groove.branches[:index] + groove.branches[index + 1 :])


def call(groove: Groove, index: int, name: str) -> Groove:
    """Give a branch a name; "" gives it one by number."""
    branch = _branch(groove, index)
    name = check_text(name.strip(), "name", MAX_NAME)
    others = part(groove, index)
    name = name or _numbered([other.name for other in others.branches])
    row = branch.variations
    if row and branch.name and row[at := _first_own(row)].name == branch.name:  # it had its name from the way
        row = (*row[:at], replace(row[at], name="" if _is_automatic(name) else name), *row[at + 1 :])
    new = replace(branch, name=name, variations=row)
    return replace(groove, branches=(*groove.branches[:index], new, *groove.branches[index + 1 :]))


def follow(old: Groove, new: Groove) -> tuple[Groove, tuple[str, ...]]:
    """Let the branches leave from where they should after the main way of `old` has become that of `new`.

    What was taken out is taken out for all ways that shared it. What was moved stays in each of them. Gives the groove
    and remarks on the ways that leave from elsewhere now.
    """
    then = [variation.key for variation in old.variations]
    there = {variation.key for variation in new.variations}
    order = [variation.key for variation in new.variations if variation.key in set(then)]
    says = []
    next_key, branches = new.next_key, []
    for branch in new.branches:
        shared = [key for key in then[: _end(old, branch.after)] if key in there]
        size = len(shared)
        if set(order[:size]) != set(shared):
            size = next(i for i, key in enumerate(shared) if order[i] != key)
        after = order[size - 1] if size else 0
        copied = [old.variations[then.index(key)] for key in shared[size:]] if size < len(shared) else []
        copies = tuple(replace(variation, key=next_key + i) for i, variation in enumerate(copied))
        next_key += len(copies)
        if copies or branch.after not in {0, *there}:
            says.append(_said(branch, after, new, len(copies)))
        branches.append(_checked(replace(branch, after=after, variations=(*copies, *branch.variations))))
    return _joined(_numbered_up(replace(new, branches=tuple(branches)), next_key)), tuple(says)


def _replant(groove: Groove, at: int, own: Row, leaving: int = -1) -> Groove:
    """Let the main way go on with `own` after its first `at` variations, without the branch `leaving`.

    Branches that leave from what is swapped out leave from there and take along what they shared.
    """
    kept, rest = groove.variations[:at], groove.variations[at:]
    if len(kept) + len(own) > MAX_VARIATIONS:
        raise VariationError(
            f"this way has {len(kept) + len(own)} variations, and at most {MAX_VARIATIONS} can be shown; take some "
            "out of what both ways share"
        )
    fork_key = kept[-1].key if kept else 0
    next_key, branches = groove.next_key, []
    for number, branch in enumerate(groove.branches):
        if number == leaving:
            continue
        size = _end(groove, branch.after) - at
        if size > 0:
            copies = tuple(replace(variation, key=next_key + i) for i, variation in enumerate(rest[:size]))
            next_key += size
            branch = _checked(replace(branch, after=fork_key, variations=copies + branch.variations))
        branches.append(branch)
    return _numbered_up(replace(groove, variations=kept + own, branches=tuple(branches)), next_key)


def _joined(groove: Groove) -> Groove:
    """Share again what a branch holds as a copy where the original stands there; at least one stays its own."""
    keys = {0: 0} | {variation.key: i + 1 for i, variation in enumerate(groove.variations)}
    branches = []
    for branch in groove.branches:
        own, at = branch.variations, keys[branch.after]
        while len(own) > 1 and at < len(groove.variations) and _is_copy(own, 0):
            original = groove.variations[at]
            if own[0].key < original.key or replace(own[0], key=original.key) != original:
                break
            own, at = own[1:], at + 1
        after = groove.variations[at - 1].key if at else 0
        branches.append(replace(branch, after=after, variations=own))
    return replace(groove, branches=tuple(branches))


def _is_copy(row: Row, index: int) -> bool:
    return any(later.key < row[index].key for later in row[index + 1 :])


def _first_own(row: Row) -> int:
    """The position of the first variation that is no copy; there is one, the last is none."""
    return next(i for i in range(len(row)) if not _is_copy(row, i))


def _called(branch: Branch) -> Row:
    """The variations of a branch, the first one of its own with the name of the branch if it has none itself."""
    row = branch.variations
    if not row or not branch.name or _is_automatic(branch.name):
        return row
    at = _first_own(row)
    return row if row[at].name else (*row[:at], replace(row[at], name=branch.name), *row[at + 1 :])


def _name(rest: Row, groove: Groove) -> str:
    taken = [branch.name for branch in groove.branches]
    own = rest[_first_own(rest)].name if rest else ""
    return own if own and own not in taken else _numbered(taken)


def _numbered(taken: list[str]) -> str:
    return next(name for i in range(1, len(taken) + 2) if (name := f"{AUTOMATIC}{i}") not in taken)


def _is_automatic(name: str) -> bool:
    return name.startswith(AUTOMATIC) and name[len(AUTOMATIC) :].isdecimal()


def _said(branch: Branch, after: int, groove: Groove, copies: int) -> str:
    number = next((i + 1 for i, variation in enumerate(groove.variations) if variation.key == after), 0)
    name = f"“{branch.name}”" if branch.name else "another way"
    place = f"stage {number}" if number else "the base beat"
    along = f" and has {copies} variation{'s' * (copies != 1)} of the shared ones for itself" if copies else ""
    return f"{name} leaves from {place} now{along}"


def _checked(branch: Branch) -> Branch:
    if len(branch.variations) > MAX_VARIATIONS:
        raise VariationError(
            f"“{branch.name}” would have {len(branch.variations)} variations of its own, at most {MAX_VARIATIONS} "
            "are kept; take some out of what it shares, or delete it"
        )
    return branch


def _numbered_up(groove: Groove, next_key: int) -> Groove:
    if next_key > max(MOST_KEYS, groove.next_key):
        raise VariationError("this beat has been changed so often that its numbers have run out; begin a new one of it")
    return replace(groove, next_key=next_key)


def _branch(groove: Groove, index: int) -> Branch:
    if not 0 <= index < len(groove.branches):
        raise VariationError(f"there are {len(groove.branches)} other ways; number {index} is not one", field="way")
    return groove.branches[index]


def _end(groove: Groove, after: int) -> int:
    """How many variations of the main way stand up to a key."""
    if after == 0:
        return 0
    for at, variation in enumerate(groove.variations):
        if variation.key == after:
            return at + 1
    raise VariationError(f"there is no variation with key {after}; the last may have been taken out", field="after")
