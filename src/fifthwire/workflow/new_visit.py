"""Write a new visit or plant file, ready to fill in."""

from dataclasses import replace
from datetime import date

from fifthwire.model.visit import Visit, VisitHeader
from fifthwire.visitfile import plant_template, template
from fifthwire.workflow.carrying import carried_over, listed_valves
from fifthwire.workflow.files import file_error, read_file, refuse_existing, write_file
from fifthwire.workflow.visits import open_visit

PLANT_ENDING = ".plant.toml"
LIST_ENDINGS = (".csv", ".tsv")
VISIT_ENDINGS = (".toml", ".json")


def new_visit(path: str, *, today: date, source: str | None = None, overwrite: bool = False) -> Visit:
    """Write a commented visit file with everything that is known before the visit.

    Parameters
    ----------
    path : str
        Where to; a TOML file.
    today : date
        Day of the visit.
    source : str or None
        A list of valves (CSV) or an earlier visit (TOML or JSON) to take over; None: nothing is known.
    overwrite : bool
        Whether a file that is already there is replaced.

    Returns
    -------
    Visit
        What is known, as it was written.

    Raises
    ------
    VisitFileError
        If the file is there already or cannot be written, or the source cannot be used.
    """
    if not path.lower().endswith(".toml"):
        raise file_error(path, "is not a name for a new visit", "Call it NAME.visit.toml.")
    refuse_existing(path, overwrite=overwrite)
    known = _known(source, today)
    write_file(path, template(known).encode("utf-8"), overwrite=overwrite)
    return known


def new_plant(path: str, *, source: str | None = None, overwrite: bool = False) -> None:
    """Write a commented plant file with every key that it may have.

    Parameters
    ----------
    path : str
        Where to; a TOML file.
    source : str or None
        None: a plant takes nothing over.
    overwrite : bool
        Whether a file that is already there is replaced.

    Raises
    ------
    VisitFileError
        If the file is there already or cannot be written, or something is to be taken over.
    """
    if source is not None:
        raise file_error(source, "a plant takes nothing over from a file", "Leave --from out.")
    refuse_existing(path, overwrite=overwrite)
    write_file(path, plant_template().encode("utf-8"), overwrite=overwrite)


def _known(source: str | None, today: date) -> Visit:
    nameless = VisitHeader(date=today, site="", system="")
    if source is None:
        return Visit(header=nameless)
    if source.lower().endswith(LIST_ENDINGS):
        return replace(listed_valves(read_file(source), source, today), header=nameless)
    if source.lower().endswith(VISIT_ENDINGS):
        return carried_over(open_visit(source).visit, today)
    raise file_error(source, "is neither a list nor a visit", "Its name ends with .csv, .toml or .json.")
