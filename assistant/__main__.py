"""``python -m assistant``: the same as the command ``gloveside``."""

import sys

from assistant.cli.main import main

if __name__ == "__main__":
    sys.exit(main())
