"""The front changed, of the bodice or of the sleeve, and the back left as it was."""

from tutor.marking.mistake import Mistake
from tutor.marking.one_piece import one_piece

MISTAKE = Mistake("front-only", plans=one_piece("front", forgotten="back"), words="the front changed alone")
