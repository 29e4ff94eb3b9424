"""``python -m api.command``."""

import sys

from api.command.main import main

if __name__ == "__main__":
    sys.exit(main())
