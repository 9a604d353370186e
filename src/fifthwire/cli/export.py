"""`fifthwire export`: everything that is kept, in forms that other programs read."""

from argparse import Namespace

from fifthwire.cli.exits import DONE
from fifthwire.cli.records import oneself, opened, tell
from fifthwire.cli.things import site_asked
from fifthwire.workflow.exporting import export_to_file


def run(arguments: Namespace) -> int:
    """Write the ZIP."""
    with opened(arguments.register) as register:
        who = oneself()
        site = site_asked(register, who, arguments)
        export_to_file(
            register,
            who,
            arguments.what,
            arguments.file,
            site_id=site.id if site else None,
            overwrite=arguments.overwrite,
        )
    tell(f"Written: {arguments.file}")
    return DONE
