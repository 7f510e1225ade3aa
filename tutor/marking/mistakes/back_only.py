"""The back changed, of the bodice or of the sleeve, and the front left as it was."""

from tutor.marking.mistake import Mistake
from tutor.marking.one_piece import one_piece

MISTAKE = Mistake("back-only", plans=one_piece("back", forgotten="front"), words="the back changed alone")
