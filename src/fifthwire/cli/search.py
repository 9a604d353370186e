"""`fifthwire search`: one question over everything that is kept."""

from argparse import Namespace

from fifthwire.cli.exits import DONE
from fifthwire.cli.records import oneself, opened
from fifthwire.cli.things import show_page
from fifthwire.model.kept.notes import Hit
from fifthwire.workflow.search import search


def run(arguments: Namespace) -> int:
    """Show what was found."""
    with opened(arguments.register) as register:
        page = search(register, oneself(), " ".join(arguments.words), page=arguments.page)
    show_page(page, arguments, ("kind", "id", "what", "where", "text"), _cells, "Nothing holds these words.")
    return DONE


def _cells(hit: Hit) -> tuple[object, ...]:
    return (hit.kind, hit.id, hit.title, hit.where, hit.excerpt)
