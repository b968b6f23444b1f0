"""`bed`: set up, corrected, measured, or listed with every guess.

Options are passed on as typed; what they mean is read by the services.
"""

from typing import Any

import click

from soakbook.cli import completing, options
from soakbook.cli.from_list import bring_in, list_options, said_list
from soakbook.cli.options import Command, Entered
from soakbook.cli.told_page import say

MEASURES = {"jam_jar", "gauge", "ruler"}
"""Options of a bed that are entries of a day."""

PARTING = {"plants", "on"}
PART_SAYS = {"part_of", "area", "name", *PARTING}
"""Options of a bed that was a part of another."""

BESIDE = {"key", "specimen", "by", "at", "book_path", "as_json"}
"""Words beside which the beds are only listed."""


def _schema(typed: dict[str, Any]) -> str:
    """Which report these words ask for."""
    if "file" in typed:
        return "list"
    return "told" if typed.keys() - BESIDE else "beds"


@click.command(
    cls=Command,
    examples=(
        "soakbook bed                 all beds, and what in them is a guess",
        'soakbook bed chapel --area 18m2 --soil "sandy loam" \\',
        '    --place "south wall foot" --tap A',
        "soakbook bed --from beds.csv --dry-run",
        "soakbook bed dole --hole standing",
        "soakbook bed warden --jar 6,3,1",
        "soakbook bed chapel --jam-jar 6mm --gauge 14mm",
        "soakbook bed chapel --ruler 4,5,3,5,4 --at yesterday",
        'soakbook bed west --part-of warden --area 12m2 --plants "rose 6, hydrangea"',
        "soakbook bed school --rest 1oct",
    ),
)
@click.argument("key", metavar="[KEY]", required=False, shell_complete=completing.beds)
@click.option("--name", metavar="NAME", help='What it is called, if not by its key: "Chapel Wall".')
@click.option("--new-key", metavar="KEY", help="Another short key for it; its past goes with it.")
@click.option("--area", metavar="SIZE", help="18m2 or 200sqft.")
@click.option("--soil", metavar="SOIL", help='"sandy loam", clay; unknown when nobody has felt it.')
@click.option("--squeeze", metavar="FOUND", help='A wetted pinch: "falls apart", "short ribbon".')
@click.option("--jar", metavar="HEIGHTS", help="Sand, silt, clay settled in a jar: 6,3,1.")
@click.option(
    "--hole", metavar="FOUND", help="Water in a 30 cm hole after a day: standing, gone, or 20mm/h."
)
@click.option("--place", metavar="PLACE", help='"south wall foot", "under a tree", open.')
@click.option("--exposure", metavar="TIMES", help="How fast it dries beside open ground: 1.2.")
@click.option(
    "--rain-share",
    "--share",
    metavar="PART",
    help="Of the rain in the gauge: 0.45; jars goes back to what jam jars had.",
)
@click.option("--jam-jar", metavar="DEPTH", help="What a jar in the bed caught of a shower: 6mm.")
@click.option(
    "--gauge",
    metavar="DEPTH",
    help="What the gauge caught meanwhile; else its last reading, if that is of the day before.",
)
@click.option("--ruler", metavar="DEPTHS", help="In the mulch, in some spots: 4,5,3,5,4 (cm).")
@click.option("--stones", metavar="PART", help="some, many, or a part: 0.15.")
@click.option("--organic", metavar="PART", help="Organic matter: 2.5%.")
@click.option("--slope", metavar="SLOPE", help='"1 in 4".')
@click.option("--depth", metavar="DEPTH", help="Of the soil roots can use: 35cm.")
@click.option("--intake", metavar="SPEED", help="How fast it drinks: 8mm/h.")
@click.option("--tap", metavar="TAP", help="The tap it is watered from.")
@click.option("--walk", metavar="WAY", help="From the tap to the bed: 30m.")
@click.option("--right", flag_value="yes", help="What is guessed of its place is right.")
@click.option("--keeper", metavar="WHO", help="Who looks after it.")
@click.option(
    "--part-of",
    metavar="BED",
    shell_complete=completing.beds,
    help="A new bed that was a part of this one until now.",
)
@click.option(
    "--plants",
    metavar="NAMES",
    help="What stands on that part, parted by commas, with how many where it is not all of them.",
)
@click.option("--on", metavar="DATE", help="The part's first day as a bed of its own; else today.")
@click.option(
    "--rest", metavar="DATE", help="Lay it to rest from that day on: today, 1oct; no ends its rest."
)
@list_options(again=False)
@options.specimen
@options.written(options.at, report=_schema)
def bed_command(key: str | None, specimen: bool, entered: Entered, **typed: Any) -> None:
    """Add a bed or change it; alone, list the beds.

    The list says what is a guess, and which command settles it. A jam jar and a ruler are entries
    of a day: each by itself, with --at if it was not now.
    """
    listed = said_list(typed)
    said = options.said(typed)
    if listed is not None:
        if key or said or specimen or entered.at:
            raise click.UsageError("a list says all of it: only --from and what is about it")
        from soakbook.services.setup import bed_list

        bring_in(listed, entered, bed_list)
        return
    if entered.at and not (MEASURES & said.keys()):
        raise click.UsageError("--at goes with --jam-jar or --ruler")
    if not said:
        _list_beds(key, specimen, entered)
        return
    if key is None:
        raise click.UsageError("say which bed: its KEY goes before the options")
    if specimen:
        raise click.UsageError("the specimen garden is only read: leave out --specimen")
    if MEASURES & said.keys():
        _measure(key, said, entered)
        return
    if "part_of" in said or "rest" in said:
        _part_or_rest(key, said, entered)
        return
    if PARTING & said.keys():
        raise click.UsageError("--plants and --on go with --part-of")
    from soakbook.services.setup import bed

    answer = bed(entered.path, key, now=options.now(), by=entered.by, **said)
    say(answer, as_json=entered.as_json)


def _measure(key: str, said: dict[str, str], entered: Entered) -> None:
    """Enter a jam jar or a ruler."""
    from soakbook.services.pen import Written
    from soakbook.services.setup import jam_jar, ruler

    names = [name for name in said if name != "gauge"]
    if "gauge" in said and "jam_jar" not in said:
        raise click.UsageError("--gauge goes with what the jar caught: --jam-jar 6mm --gauge 14mm")
    if len(names) > 1:
        raise click.UsageError("a jam jar or a ruler is entered by itself, without other options")
    written = Written(now=options.now(), by=entered.by, at=entered.at)
    if names == ["jam_jar"]:
        answer = jam_jar(entered.path, key, said["jam_jar"], gauge=said.get("gauge"), **written)
    else:
        answer = ruler(entered.path, key, said["ruler"], **written)
    say(answer, as_json=entered.as_json)


def _part_or_rest(key: str, said: dict[str, str], entered: Entered) -> None:
    """Begin a bed that was a part of another, or lay one to rest."""
    from soakbook.services.setup import part, rest

    now = options.now()
    if "rest" in said:
        if len(said) > 1:
            raise click.UsageError("--rest is said by itself, without other options")
        answer = rest(entered.path, key, said["rest"], now=now, by=entered.by)
    else:
        if not said.keys() >= {"area", "plants"} or said.keys() - PART_SAYS:
            raise click.UsageError(
                "--part-of goes with --area and --plants, and with --name and --on; all else is as of the whole"
            )
        whole = said.pop("part_of")
        answer = part(entered.path, whole, key, now=now, by=entered.by, **said)
    say(answer, as_json=entered.as_json)


def _list_beds(key: str | None, specimen: bool, entered: Entered) -> None:
    from soakbook.cli import lists_page, paper
    from soakbook.services.books import where
    from soakbook.services.setup import beds

    report = beds(where(entered.book_path, specimen))
    if key is not None:
        report = lists_page.only_bed(report, key)
    if entered.as_json:
        paper.put_json(report)
        return
    page = paper.new_page()
    lists_page.write_beds(page, report)
    paper.put(page)
