"""What can hurt, said where it is met: once a season with the answer, always under `--help`.

Local rules go first.
"""

from datetime import date
from typing import TYPE_CHECKING

from soakbook.garden.heat_words import PEOPLE_IN_HEAT

if TYPE_CHECKING:
    from soakbook.garden.entries import AnyEntry
    from soakbook.garden.pages import Pages

HOSE = (
    "Water left in a sunlit hose can scald and can breed germs: run it off gently, no spray, until it "
    "comes cold, and not onto a plant. Never leave a hose end in a butt, tank or can: what stands there "
    "can be sucked back. A check valve at the tap: ask your water company; drip and fixed pipes need more."
)
BUTT = (
    "A butt: lid locked, small children drown in butts; clean it yearly; pour stored water at the root, "
    "never spray it."
)
COMPOST = (
    "Open bags of compost out of doors and away from your face, damp it, wear gloves, wash your hands "
    "(legionella)."
)
DUG_BALL = "A 45 cm ball weighs 40 to 60 kg: board, barrow, help."
RULE = "A rule is kept as you typed it: the company's text decides, not soakbook."

CAUTIONS: dict[str, str] = {
    "soak": (
        "A full 10 L can is 10 kg a hand: two half-full beat one full, and rest. A full 60 L barrow tank "
        "slops on a slope."
    ),
    "feel": "Wear gloves; mind buried cables and pipes before you dig a hole to look.",
    "wilt": PEOPLE_IN_HEAT,
    "mulch": (
        "Open bags out of doors and away from your face, damp the compost, wear gloves, wash your hands "
        "(legionella). A wet 50 L bag may pass 25 kg: two people or half a bag."
    ),
    "plant": f"{COMPOST} {DUG_BALL}",
    "tap": f"{HOSE} {BUTT}",
    "restriction": RULE,
}
"""By command."""


def first_entry_of_year(pages: "Pages", kind: "type[AnyEntry]", day: date) -> bool:
    """Whether no entry of that kind happened yet in the year of a day."""
    return not any(
        isinstance(entry, kind) and entry.happened_at.year == day.year for entry in pages.entries
    )
