"""`python -m fifthwire` is the command `fifthwire`."""

import sys

from fifthwire.cli.main import main

if __name__ == "__main__":
    sys.exit(main())
