"""The usual mistakes, one a file. A module here holds one as ``MISTAKE``; ``tutor.marking.usual`` finds them all."""
