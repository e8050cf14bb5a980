"""`midframe battery`: label, health from a log, handling, and the battery beside that of the model before."""

from __future__ import annotations

import sys
from collections.abc import Callable, Sequence
from datetime import UTC, datetime
from pathlib import Path
from typing import Any, TypeVar, get_args

import click

from midframe.cli import shared
from midframe.cli.options import force_option
from midframe.faults import BadSetting

FIGURES = (
    ("rated", "Rated capacity, mAh."),
    ("typical", "Typical capacity, mAh."),
    ("further", "A capacity without a word that says which; several parted by a semicolon."),
    ("nominal", "Nominal voltage, V."),
    ("limit", "Charge limit voltage, V."),
    ("rated-energy", "Rated energy, Wh."),
    ("typical-energy", "Typical energy, Wh."),
    ("energy", "An energy without a word that says of which capacity, Wh."),
    ("series", "Cells in series."),
    ("side", "Cells side by side."),
    ("size", "Thickness × width × height of the cell, mm: 4.4x63.8x90.4."),
)
"""Option and help of what a label says."""

Handler = TypeVar("Handler", bound=Callable[..., Any])


def figure_options(handler: Handler) -> Handler:
    """Add an option for each figure of a label."""
    for name, words in reversed(FIGURES):
        handler = click.option(f"--{name}", metavar="FIGURE", help=words)(handler)
    return handler


part_option = click.option("--part", metavar="PART", help="Only this battery of the record, by id or name.")


@click.group("battery")
def command() -> None:
    """Check a battery: label, health from a log, handling, beside the model before.

    Lithium cells burn: never charge, heat, press or pierce one that is swollen
    or damaged. Local codes and licensed practice come first.
    """


@command.command("label")
@click.argument("file", metavar="[FILE]", required=False)
@part_option
@click.option("--photo", metavar="IMAGE", help="Read the figures from a photo (extra reader); look at them.")
@figure_options
@click.option("--mass-g", type=float, help="Mass of the cell, g.")
@shared.json_option
def label(file: str | None, part: str | None, photo: str | None, as_json: bool, **typed: Any) -> None:
    """Check the figures of a label against one another.

    Watt-hours, a further capacity, units, energy for the size: the figures are
    those of the record in FILE, of a photo, or typed. A figure
    agrees where it does within its rounding; figures may carry their unit
    (4.4 Ah).
    """
    from midframe.battery import check_label
    from midframe.cli.plain.battery import label_data
    from midframe.cli.sheets.battery import label_sheet

    record = None if file is None else shared.load(file)
    mass_g = typed.pop("mass_g")
    fields = {key: value for key, value in typed.items() if value is not None}
    given = [name for name, there in (("FILE", file), ("--photo", photo), ("figures", fields)) if there]
    if len(given) != 1:
        found = " and ".join(given) or "nothing"
        raise BadSetting(
            f"label: found {found}; right: a record, or --photo, or figures such as --rated 4880"
        )
    if record is not None:
        labels = batteries(record, part)
    else:
        labels = [from_photo(photo) if photo is not None else from_fields(fields, mass_g)]
    reports = [check_label(one) for one in labels]
    if as_json:
        shared.echo_json("battery label", record, {"labels": [label_data(one) for one in reports]})
    else:
        shared.echo(label_sheet(record, reports))


def batteries(record: Any, part: str | None) -> list[Any]:
    """The labels of a record's batteries, or of one; raises `BadSetting` where there is none."""
    from midframe.battery import labels_of

    labels = list(labels_of(record))
    if part is not None:
        name = shared.part_named(record, part)
        labels = [one for one in labels if one.part == name]
    if not labels:
        wanted = "no part with the role battery" if part is None else f"'{part}', which is no battery"
        raise BadSetting(f'{record.device.name}: found {wanted}; right: a part with role = "battery"')
    return labels


def from_fields(fields: dict[str, str], mass_g: float | None) -> Any:
    """The label that typed figures make; raises `BadSetting` with all that are wrong."""
    from midframe.battery import typed_figures

    found = typed_figures(fields, mass_g=mass_g)
    if found.faults:
        raise BadSetting(
            "\n".join(f"--{key.replace('_', '-')}: {text}" for key, text in found.faults.items())
        )
    return found.label


def from_photo(photo: str) -> Any:
    """The label that was read from a photo, not confirmed."""
    from midframe.battery import read_photo

    return read_photo(shared.bytes_of(photo, "a photo (JPEG, PNG)"), name=photo).unconfirmed()


@command.command("health")
@click.argument("log", metavar="LOG")
@click.option("--record", "file", metavar="FILE", help="Rated capacity and nominal voltage from this record.")
@part_option
@click.option("--rated-mah", type=float, help="Rated capacity off the label, mAh.")
@click.option("--nominal-v", type=float, help="Nominal voltage off the label, V.")
@click.option("--from", "from_percent", type=float, help="State of charge at the start, %.")
@click.option("--to", "to_percent", type=float, help="State of charge at the end, %.")
@click.option(
    "--percent-uncertainty", type=float, default=2.0, show_default=True, help="Of each, points (standard)."
)
@click.option(
    "--before-converter", is_flag=True, help="The meter sat before the phone's converter (USB meter)."
)
@click.option("--efficiency", metavar="LOW-HIGH", help="Energy stored over energy at the meter: 0.85-0.90.")
@click.option("--standby", metavar="LOW-HIGH", help="Load of the phone itself at the meter, W: 0.3-0.5.")
@click.option(
    "--meter-uncertainty", type=float, default=1.0, show_default=True, help="Of the meter, % (standard)."
)
@click.option("--run", "run_number", type=int, help="Which stretch of charging or discharging, from 1.")
@click.option("--map", "columns", multiple=True, metavar="ROLE=HEADER", help="What a column is; repeatable.")
@click.option("--unit", "units", multiple=True, metavar="ROLE=UNIT", help="The unit of a column; repeatable.")
@click.option(
    "--sign", metavar="SIGN", help="charge_positive, discharge_positive, all_charge or all_discharge."
)
@click.option(
    "--mapping", "mappings", multiple=True, metavar="FILE", help="Columns as --keep wrote them; repeatable."
)
@click.option("--keep", metavar="OUT", help="Remember the columns in OUT (TOML).")
@click.option("--yes", is_flag=True, help="The columns are as they were recognised.")
@click.option("--chart", metavar="OUT", help="Write voltage and current against time to OUT (SVG).")
@click.option("--write", metavar="OUT", help="Write the --record with the result kept in it to OUT (TOML).")
@force_option
@shared.json_option
def health(log: str, as_json: bool, **options: Any) -> None:
    """Tell capacity and state of health from a log.

    LOG is the CSV of a meter or cycler with time, voltage and current. What each column is taken for
    is shown; what is not certain wants --yes, --map, --unit or --sign, and
    --keep remembers it. A window that is too small gives no figure; a meter
    before the converter gives a range, from energy.
    """
    from midframe.battery import measure
    from midframe.battery.log_series import series
    from midframe.battery.log_table import read_table
    from midframe.cli.plain.battery import health_data
    from midframe.cli.sheets.battery import health_sheet

    data = shared.bytes_of(log, "a log of a meter or cycler (CSV)")
    record, label = None, None
    if options["file"] is not None:
        record = shared.load(options["file"])
        label = the_one(record, options["part"])
    asked = asked_of(label, options)
    table = read_table(data, log)
    columns, mapping = settled(table, options)
    figures = series(table, mapping)
    found = measure(figures, asked)
    texts = files_of(mapping, figures, found, options)
    if options["write"] is not None:
        texts.append((options["write"], with_result(record, label, found, data, log)))
    for name, text in texts:
        shared.write_new(Path(name), text, overwrite=options["force"])
    written = [name for name, _ in texts]
    if as_json:
        content = {"log": log, "files": written, **health_data(columns, mapping, found)}
        shared.echo_json("battery health", None, content)
    else:
        shared.echo(health_sheet(columns, mapping, found, written))


def the_one(record: Any, part: str | None) -> Any:
    """The label of the one battery that is meant; raises `BadSetting` where there are several."""
    labels = batteries(record, part)
    if len(labels) > 1:
        names = ", ".join(one.part for one in labels)
        raise BadSetting(f"--record: found {len(labels)} batteries; right: --part with one of {names}")
    return labels[0]


def with_result(record: Any, label: Any, found: Any, data: bytes, log: str) -> str:
    """The record with the result kept in it, as text; raises `BadSetting` where there is nothing to keep."""
    from hashlib import sha256

    from midframe.battery import measurements_of, with_kept
    from midframe.record import write

    if record is None:
        raise BadSetting("--write: found no record to keep the result in; right: --record FILE with it")
    at = datetime.now(UTC).isoformat(timespec="seconds")
    digest = sha256(data).hexdigest()
    kept = measurements_of(found, label.part, at, file=digest, log_name=Path(log).name)
    return write(with_kept(record, kept))


def asked_of(label: Any, options: dict[str, Any]) -> Any:
    """What was said of the log; the label's figures from the record where none are typed."""
    from midframe.battery import Asked, rated_figures

    rated, nominal = options["rated_mah"], options["nominal_v"]
    if label is not None:
        read = rated_figures(label)
        rated, nominal = read[0] if rated is None else rated, read[1] if nominal is None else nominal
    return Asked(
        place="before_converter" if options["before_converter"] else "cell",
        rated_mah=rated,
        nominal_v=nominal,
        from_percent=options["from_percent"],
        to_percent=options["to_percent"],
        percent_room=options["percent_uncertainty"],
        efficiency=ends("--efficiency", options["efficiency"], "0.85-0.90"),
        standby_w=ends("--standby", options["standby"], "0.3-0.5"),
        run_number=options["run_number"],
        meter_percent=options["meter_uncertainty"],
    )


def ends(option: str, text: str | None, example: str) -> tuple[float, float] | None:
    """Both ends of a range; one figure is both. Raises `BadSetting`."""
    if text is None:
        return None
    low, dash, high = text.partition("-")
    try:
        return float(low), float(high if dash else low)
    except ValueError:
        raise BadSetting(f"{option}: found '{text}'; right: for example {example}") from None


def settled(table: Any, options: dict[str, Any]) -> tuple[Any, Any]:
    """The columns as a person has them; asks at a terminal, refuses elsewhere what is not certain."""
    from midframe.battery import changed, confirmed, propose, read_mapping
    from midframe.battery.log_result import columns_in

    wanted = "columns of a log (TOML, as --keep writes it)"
    known = [read_mapping(shared.text_of(file, wanted), file) for file in options["mappings"]]
    columns = columns_in(table, known)
    said = changed(
        columns.mapping,
        table,
        said_of("--map", options["columns"]),
        said_of("--unit", options["units"]),
        sign_of(options["sign"]),
    )
    if any(said.use(role) is None for role in columns.missing):
        propose(table)  # raises, with the headers that there are
    if said.questions and not columns.remembered and not options["yes"] and not agreed(said.questions):
        questions = "\n".join(f"{table.file}: found {one}" for one in said.questions)
        raise BadSetting(
            f"{questions}\nright: --yes if it is so, else --map, --unit or --sign; --keep remembers"
        )
    return columns, confirmed(said)


def agreed(questions: Sequence[str]) -> bool:
    """Whether the person at the terminal says that the columns are so."""
    if not (sys.stdin.isatty() and sys.stderr.isatty()):
        return False
    for one in questions:
        click.echo(f"taken: {one}", err=True)
    return click.confirm("Is it so?", default=False, err=True)


def said_of(option: str, texts: Sequence[str]) -> dict[Any, str]:
    """Role and text of ROLE=TEXT; raises `BadSetting` with the roles that there are."""
    from midframe.battery.log_mapping import ColumnRole

    roles = get_args(ColumnRole)
    found = {}
    for text in texts:
        role, equals, said = text.partition("=")
        if role.strip() not in roles or not equals:
            raise BadSetting(f"{option}: found '{text}'; right: ROLE=TEXT, with one of {', '.join(roles)}")
        found[role.strip()] = said.strip()
    return found


def sign_of(text: str | None) -> Any:
    """The sign that was said; raises `BadSetting`."""
    from midframe.battery.log_mapping import Sign

    if text is not None and text not in get_args(Sign):
        raise BadSetting(f"--sign: found '{text}'; right: one of {', '.join(get_args(Sign))}")
    return text


def files_of(mapping: Any, log: Any, found: Any, options: dict[str, Any]) -> list[tuple[str, str]]:
    """Names and texts of the files that were asked for."""
    from midframe.battery import mapping_text
    from midframe.publish.battery_charts import log_chart
    from midframe.publish.svg import standalone

    texts = []
    if options["keep"] is not None:
        texts.append((options["keep"], mapping_text(mapping)))
    if options["chart"] is not None:
        texts.append((options["chart"], standalone(log_chart(log, found))))
    return texts


@command.command("handling")
@click.argument("file", metavar="[FILE]", required=False)
@part_option
@click.option("--energy-wh", type=float, help="Rated energy, Wh, where no record is named.")
@click.option(
    "--cells", type=int, default=1, show_default=True, help="Cells in the battery, with --energy-wh."
)
@click.option(
    "--condition",
    type=click.Choice(("sound", "damaged", "swollen")),
    help="As you have seen it; by default as the record has it, else sound.",
)
@click.option(
    "--packing",
    type=click.Choice(("alone", "with-equipment", "in-equipment")),
    default="alone",
    show_default=True,
    help="How it is sent.",
)
@shared.json_option
def handle(
    file: str | None, part: str | None, energy_wh: float | None, cells: int, as_json: bool, **said: Any
) -> None:
    """Tell shipping class and cautions, also of a damaged cell.

    Rules of carriage change every year: the carrier and the local authority
    have the last word.
    """
    from midframe.battery import handling, handling_of
    from midframe.cli.plain.battery import handling_data
    from midframe.cli.sheets.battery import handling_sheet

    packing = said["packing"].replace("-", "_")
    record = None if file is None else shared.load(file)
    found = []
    if record is None:
        found.append(
            (
                "",
                handling(energy_wh, cells, condition=said["condition"] or "sound", packing=packing),
                said["condition"] is not None,
            )
        )
    else:
        seen = {one.id: one.condition for one in record.parts}
        for one in batteries(record, part):
            condition = said["condition"] or seen[one.part]
            handled = handling_of(one, condition=condition or "sound", packing=packing)
            found.append((one.name, handled, condition is not None))
    if as_json:
        shared.echo_json("battery handling", record, {"batteries": [handling_data(*one) for one in found]})
    else:
        shared.echo(handling_sheet(record, found))


@command.command("compare")
@click.argument("now", metavar="FILE")
@click.argument("before", metavar="BEFORE")
@shared.json_option
def compare(now: str, before: str, as_json: bool) -> None:
    """Set the battery of FILE beside that of BEFORE."""
    from midframe.battery import compare_batteries
    from midframe.cli.plain.battery import comparison_data
    from midframe.cli.sheets.battery import comparison_sheet

    found = compare_batteries(shared.load(now), shared.load(before))
    if as_json:
        shared.echo_json("battery compare", None, comparison_data(found))
    else:
        shared.echo(comparison_sheet(found))
