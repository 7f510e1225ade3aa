"""A terminal tutor for altering sleeve patterns."""

import os

__version__ = "0.1.0"

# numpy reads this when it is first loaded. A pattern's equations are a few hundred at most: to share them out among
# threads takes longer than to solve them, and on a busy machine many times as long.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
