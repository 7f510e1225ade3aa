"""The full-screen tutor, by Textual."""

import os

# How often a second Textual looks whether there is something to paint; it reads this when it is first imported. At its
# own 60, a key waits up to 17 ms for its frame after all work is done. Nothing is painted unless something changed.
os.environ.setdefault("TEXTUAL_FPS", "240")
