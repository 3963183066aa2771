"""Plans the invented studio's week; sets up what it needs first."""

import sys
from pathlib import Path

HERE = Path(__file__).resolve().parent
sys.path.insert(0, str(HERE))

from environment import ready, run  # noqa: E402

if __name__ == "__main__":
    sys.exit(run(ready(), "-m", "sheetcut.cli", "plan", "demo", *sys.argv[1:]))
