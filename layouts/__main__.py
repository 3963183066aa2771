"""Plans the kept cases again: drawings, plan documents and the table of figures."""

import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT / "demo"))

from environment import ready, run  # noqa: E402

if __name__ == "__main__":
    sys.exit(run(ready("test"), "-m", "tests.gallery", *sys.argv[1:]))
