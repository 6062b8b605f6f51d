"""Seven whole cooks of different trade. Numbers are hand arithmetic on what is typed here.

What is usual (times, temperatures, feels) is common practice, no source.
"""

import re
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

from PIL import Image

from pitjournal.ui.bench.wall.tile_card import TileCard
from tests.journeys.contest import contest_day
from tests.journeys.hands import Hand

Journey = Callable[[Hand, Path], None]


def plan(hand: Hand, cut: str, *, title: str = "", pieces: int = 1, when: str = "") -> None:
    """Plan what is just a cook."""
    hand.new_cook()
    hand.press("just a cook")
    if title:
        hand.write("Question or title", title)
    hand.write("Cut", cut)
    hand.press(str(pieces), within="pieces")
    if when:
        hand.write("Meat on at about", when)
    hand.press("Start the plan")
    hand.must_see("Cooker and day", title or cut.capitalize())


def compare(
    hand: Hand, question: str, cut: str, *ways: str, wraps: bool = False, pieces: int = 2
) -> None:
    """Plan a comparison of so many pieces of each arm."""
    hand.new_cook()
    hand.write("Question or title", question)
    if wraps:
        hand.press("the treatment")
        hand.press("the wrap")
    for way in ways:
        hand.press(way)
    hand.press("tenderness")
    hand.write("When does each piece come off?", "each piece off when it feels right")
    hand.write("Cut", cut)
    hand.press(str(pieces), within="pieces")
    hand.press("Start the plan")
    hand.must_see("Arms: one thing changes", question)


def light_and_put_on(hand: Hand) -> None:
    """Light the fire, and half an hour later put everything on."""
    hand.turn("Bench")
    hand.must_see("not lit yet")
    hand.tap("Lit")
    hand.must_see("✓ saved")
    hand.wait(minutes=30)
    hand.tap("On")
    hand.must_see("0 min on")


def probe(hand: Hand, *checks: tuple[str, int]) -> None:
    """Probe pieces one after the other."""
    hand.tap("Feel")
    hand.must_see("Probe and feel")
    for temperature, score in checks:
        hand.feel(temperature, score)
        hand.must_see("✓ saved for")
    hand.close()
    hand.must_not_see("Probe and feel")


def from_afar(hand: Hand, tap: str) -> None:
    """Fill the window with tiles, tap something for the first of them, and go back."""
    hand.press("Large tiles of the bench, to be read from afar")
    hand.must_see("back of the cooker", "touch a tile to note something")
    tile = hand.window.findChildren(TileCard)[0]
    hand.press(tile.accessibleName())
    hand.press(tap)
    hand.must_see(f"{tap}, {tile.text()}", "back of the cooker")
    hand.press("Back to bench")
    hand.must_not_see("back of the cooker")


def taste(hand: Hand, scores: tuple[str, ...]) -> None:
    """Let two taste blind: each sample gets the next score, from both."""
    hand.turn("Tasting")
    hand.write("other tasters, with commas between", "Ada, Bruno")
    for criterion in ("juiciness", "flavour", "appearance"):
        hand.press(criterion)  # tenderness alone is scored
    everyone = f"all {len(scores)} to everyone"
    if hand.sees(everyone):  # of a few, everyone gets all
        hand.press(everyone)
    hand.press("Draw the codes")
    for taster in ("Ada", "Bruno"):
        hand.press(taster)
        fields = sorted(name for name in set(hand.words()) if re.fullmatch(r"\d{3}, .*", name))
        for name, score in zip(fields, scores, strict=True):
            hand.reach(hand.find(name))
            hand.type(score)
    hand.press("Lock the scores")
    hand.press("Reveal the codes")


def share(hand: Hand, to: Path, *words: str) -> None:
    """Share the cook as a page, and look into it."""
    hand.turn("Findings")
    hand.must_see("Share a summary")
    hand.press("Share a summary")
    hand.press("one HTML file")
    hand.write("file to write", str(to))
    hand.press("Write it")
    hand.qtbot.waitUntil(to.exists, timeout=60_000)
    text = to.read_text(encoding="utf-8")
    for word in words:
        assert word in text, word


def ribs_three_ways(hand: Hand, folder: Path) -> None:
    """Left alone, injected and needled; a lid, a slip taken back, tasted, shared."""
    question = "Does injecting or needling change the bite"
    compare(hand, question, "back ribs", "needled")
    light_and_put_on(hand)
    hand.wait(hours=1)
    hand.tap("Lid")
    hand.must_see("Lid, all six")
    hand.tap("Flip")
    hand.undo()
    hand.must_see("Undid: Flip")
    from_afar(hand, "Spritz")
    hand.wait(hours=3)
    probe(hand, *[("198", 4)] * 6)
    hand.must_see("All are right: take them off")
    hand.do_what_is_due()
    hand.must_see("Everything is off", "3 h")
    taste(hand, ("7", "6", "8", "5", "7", "6"))
    hand.turn("Findings")
    hand.must_see("Tenderness", "Needled")
    share(hand, folder / "ribs.html", question, "Needled")


def brisket_overnight(hand: Hand, folder: Path) -> None:
    """On at ten in the evening before clocks go back; the hours are those that passed."""
    plan(hand, "brisket", when="today 22:00")
    hand.wait(hours=4)
    light_and_put_on(hand)
    hand.wait(hours=5)  # the second time that clocks show 01:30
    hand.must_see("01:30 CST", "5 h on")
    hand.tap("Wrap")
    hand.wait(hours=6)
    hand.must_see("11 h on")
    probe(hand, ("203F", 4))
    hand.tap("On")  # is Off by now
    hand.must_see("Everything is off")
    hand.press("log")
    hand.must_see("01:30 CST", "yesterday 21:30")
    share(hand, folder / "brisket.html", "Brisket")


def wings_for_twelve(hand: Hand, folder: Path) -> None:
    """Twelve pieces, a few probed, the weather said, a note."""
    plan(hand, "wings", title="Wings for twelve", pieces=12)
    light_and_put_on(hand)
    hand.tap("Other…")
    hand.press("Weather")
    hand.write("Outside", "45F")
    hand.close()
    hand.wait(minutes=40)
    hand.tap("Flip")
    hand.must_see("Flip, all 12")
    hand.tap("Other…")
    hand.write("note", "crisp at the edge")
    hand.wait(minutes=20)
    probe(hand, ("185", 4), ("188", 4), ("190", 5))
    hand.tap("On")
    hand.must_see("Everything is off")
    hand.press("log")
    hand.must_see("crisp at the edge")
    share(hand, folder / "wings.html", "Wings for twelve")


def whole_hog(hand: Hand, folder: Path) -> None:
    """One piece through a night; fuel fed by weight, and a wrong time mended."""
    plan(hand, "whole hog", title="The hog")
    light_and_put_on(hand)
    hand.must_see("On, it")
    hand.wait(hours=2)
    hand.tap("Lit")  # is Fuel by now
    hand.write("Weight of fuel", "10 lb")
    hand.press("added")
    hand.must_see("10 lb")
    hand.close()
    hand.wait(hours=10)
    hand.tap("Lid")
    hand.press("log")
    hand.press("Correct Lid")
    hand.write("Time", "1 h ago")
    hand.press("Keep it")
    hand.must_see("Correct lid")
    hand.wait(hours=2)
    probe(hand, ("170", 2), ("195", 4))
    hand.tap("On")
    hand.must_see("Everything is off")
    share(hand, folder / "hog.html", "The hog")


def butts_two_wraps(hand: Hand, folder: Path) -> None:
    """Foil against no wrap: only one arm is wrapped, and the lid is still everyone's."""
    question = "Does foil change pork butts"
    compare(hand, question, "pork butt", wraps=True)  # not wrapped and foil
    light_and_put_on(hand)
    hand.wait(hours=5)
    hand.press("Foil", within="for which pieces")
    hand.must_see("Foil")
    hand.tap("Wrap")
    hand.must_see("Wrap in foil, Foil")
    hand.tap("Lid")
    hand.must_see("Lid, all four")
    hand.press("all four")
    hand.wait(hours=4)
    probe(hand, ("203", 4), ("201", 4), ("202", 4), ("200", 3))
    hand.do_what_is_due()
    hand.must_see("Everything is off")
    taste(hand, ("7", "6", "7", "8"))
    hand.turn("Findings")
    hand.must_see("Tenderness")
    share(hand, folder / "butts.html", question)


def a_dinner(hand: Hand, folder: Path) -> None:
    """No question: the day is worked out backward from dinner, and done step by step."""
    plan(hand, "chicken thighs", pieces=2, when="today 16:00")
    hand.write("Serve or turn in", "18:30")
    hand.press("Work the day out")
    hand.must_see("backward from")
    hand.turn("Bench")
    for _ in range(12):
        if hand.sees("Everything is off"):
            break
        if not hand.sees_what_is_due():
            hand.wait(minutes=30)
            continue
        hand.do_what_is_due()
        if hand.sees("Probe and feel"):
            hand.feel("180", 4)
            hand.close()
        hand.wait(minutes=15)
    hand.must_not_see("Which arm")
    share(hand, folder / "dinner.html", "Chicken thighs")


SHORT_RIBS = tuple(f"{arm}{pack}" for arm in "ABC" for pack in "123")
"""Nine pieces: three arms, a piece of each out of each of three packs."""


def short_ribs_three_packs(hand: Hand, folder: Path) -> None:
    """Everything a stranger would do with a first comparison, from weights to a shared page."""
    question = "Does injecting or needling make short ribs more tender"
    compare(hand, question, "beef short ribs", "needled", pieces=3)
    hand.press("Draw again")
    inject(hand)
    hand.write("Serve or turn in", "tomorrow 18:30")
    hand.press("Work the day out")
    hand.must_see("Swap slots: first with last")
    hand.wait(hours=15)
    light_and_put_on(hand)
    hand.wait(hours=3)
    picture(hand, folder / "at noon.png", "#8A3B22")
    hand.wait(hours=3)
    read_probe(hand, folder / "ribs.csv")
    hand.must_see("Swap slots: overdue")
    probe(hand, *[("203", 4)] * 9)
    hand.must_see("All are right: take them off")  # though no slots were swapped
    hand.do_what_is_due()
    hand.must_see("A1, 203 °F, off at")
    hand.tap("Weigh")
    for piece in SHORT_RIBS:
        hand.write(f"weight off, {piece}", "1 lb 12 oz")
    hand.must_see("yield 70.0 %")  # 28 of 40 oz
    hand.close()
    hand.wait(minutes=40)
    taste(hand, ("7", "6", "8", "5", "7", "6", "7", "8", "4"))
    hand.turn("Findings")
    hand.must_see("Tenderness, 1 to 9", "This cook could show")
    share(hand, folder / "short ribs.html", question, "Needled", "70.0")


def inject(hand: Hand) -> None:
    """Weigh nine pieces and say what goes into three of them, in spoons and pints."""
    for piece in SHORT_RIBS:
        hand.write(f"weight trimmed, {piece}", "2 lb 8 oz")
    for piece in SHORT_RIBS[3:6]:
        hand.write(f"weight treated, {piece}", "2 lb 12 oz")
    hand.press("details Injected")
    hand.write("Liquid in all, Injected", "2 pints")
    hand.write("Salt in it, Injected", "2 tbsp")
    hand.must_see("what a tablespoon of it weighs is not known")
    hand.write("¼ cup of your salt", "72 g")
    hand.write("Salt in it, Injected", "2 tbsp")
    # Two pints are 946.353 mL and a tablespoon a quarter of ¼ cup (NIST Handbook 44, Appendix C).
    hand.must_see("36 g, 3.8 % of the liquid: a tablespoon of it weighs 18 g")
    hand.write("Pickup wanted, Injected", "10 %")
    hand.must_see("12.0 oz")  # a tenth of 7 lb 8 oz


def picture(hand: Hand, path: Path, colour: str) -> None:
    """Add a photo through the dialog for files."""
    Image.new("RGB", (320, 240), colour).save(path)
    hand.choose(path, lambda: hand.tap("Photo"))
    hand.must_see(path.name)
    hand.press("chart")


def read_probe(hand: Hand, path: Path) -> None:
    """Read a logger's file that ends now: a pit at 265 °F, and meat that climbs to 203 °F."""
    end = hand.now.astimezone(ZoneInfo("America/Chicago"))
    lines = ["Time,Pit (F),Meat (F)"]
    for minute in range(360):
        at = end - timedelta(minutes=360 - minute)
        lines.append(f"{at:%Y-%m-%d %H:%M:%S},{262 + minute % 7},{40 + 163 * minute / 359:.1f}")
    path.write_text("\n".join(lines), encoding="utf-8")
    if hand.sees("Read a probe file"):
        hand.choose(path, lambda: hand.press("Read a probe file"))
    else:  # where there is little room, it is among the others
        hand.tap("Other…")
        hand.choose(path, lambda: hand.press("Read a file"))
    hand.must_see("2 channels in 360 rows")
    hand.press("Keep it")
    hand.must_see("A1, 203 °F")


COOKS: dict[str, Journey] = {
    "ribs three ways": ribs_three_ways,
    "brisket overnight": brisket_overnight,
    "wings for twelve": wings_for_twelve,
    "whole hog": whole_hog,
    "butts in two wraps": butts_two_wraps,
    "a dinner": a_dinner,
    "a contest day": contest_day,
    "short ribs in three packs": short_ribs_three_packs,
}
