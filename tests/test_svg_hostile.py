"""Files that are no patterns, by accident or by malice, end in one clear Fault each."""

import gzip
import itertools
import re
import time
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tutor.faults import Fault
from tutor.pattern.draft import DraftSpec, draft
from tutor.pattern.svg_read import read_svg
from tutor.pattern.svg_write import write_svg

SEAMS = """<path id="cap-back" d="M-170 0C-85 0-85-140 0-140"/>
<path id="cap-front" d="M0-140C85-140 85 0 170 0"/>
<path id="underarm-front" d="M170 0L110 450"/>
<path id="hem" d="M110 450L-110 450"/>
<path id="underarm-back" d="M-110 450L-170 0"/>
"""
REST = """<path id="grain" d="M0-100V400"/><path id="elbow-line" d="M-140 225H140"/>
<circle id="notch-front" cx="85" cy="-70" r="1"/><path id="notch-back-1" d="M-85-70l-5-3"/>
<g id="piece" transform="translate(9)"><path id="armhole-back" d="M600 300A55 95 0 0 1 545 205L553 100"/>
<path id="side-back" d="M600 300V500"/><path id="armhole-notch-back-1" d="M545 205h4"/></g>
"""
OPEN = '<svg xmlns="http://www.w3.org/2000/svg" width="400mm" height="640mm" viewBox="-200 -160 400 640">'
WHOLE = f"{OPEN}\n<title>Block</title>\n{SEAMS}{REST}</svg>"


def refused(source: Path | str | bytes) -> Fault:
    content = source.encode() if isinstance(source, str) else source
    with pytest.raises(Fault) as caught:
        read_svg(content, "bad.svg")
    assert caught.value.where.startswith("bad.svg")
    line = str(caught.value)
    assert line.isprintable()
    assert caught.value.what
    return caught.value


def test_the_file_the_others_are_made_from_is_read() -> None:
    assert read_svg(WHOLE.encode(), "good.svg").armhole_back is not None


@pytest.mark.parametrize(
    ("text", "where", "what"),
    [
        ("", "bad.svg, line 1", "is not well-formed XML: no element found"),
        ("a sleeve", "bad.svg, line 1", "is not well-formed XML"),
        (WHOLE[:-20], "bad.svg, line 11", "is not well-formed XML"),
        (WHOLE + "<svg/>", "bad.svg, line 12", "is not well-formed XML: junk after document element"),
        ("<html><body/></html>", "bad.svg, line 1", "begins with <html>, which is not SVG"),
        (WHOLE.replace("2000/svg", "1999/svg"), "bad.svg, line 1", "begins with <svg>, which is not SVG"),
        (OPEN + "</svg>", "bad.svg", "draws no line with the id cap-back, cap-front, underarm-front, hem"),
        (OPEN + "&nbsp;</svg>", "bad.svg, line 1", "is not well-formed XML: undefined entity"),
        (OPEN + "\x01</svg>", "bad.svg, line 1", "is not well-formed XML"),
        (
            WHOLE.replace('id="hem"', 'id="grain"'),
            "bad.svg, line 8",
            "grain is the id of two elements, the other on line 6",
        ),
        (WHOLE.replace('d="M110 450L', 'd="M110 450LX'), "bad.svg, line 6, hem", "a number was expected"),
        (WHOLE.replace("translate(9)", "move(9)"), "bad.svg, line 10, piece", "the transform move with 1 numbers"),
        (WHOLE.replace("translate(9)", "scale(1e9)"), "bad.svg, line 10, armhole-back", "lies beyond 100 m"),
        (WHOLE.replace("translate(9)", "scale(1e9) scale(1e9)"), "bad.svg, line 10, piece", "is placed beyond 100 m"),
        (WHOLE.replace("translate(9)", "scale(0)"), "bad.svg, line 10, armhole-back", "is 0 mm long"),
        (WHOLE.replace("M0-100V400", "M0 0V1e6"), "bad.svg, line 8, grain", "lies beyond 100 m"),
        (WHOLE.replace("M0-100V400", "M0 0V1e400"), "bad.svg, line 8, grain", "the number 1e400 is too large"),
        (WHOLE.replace('cx="85"', 'cx="NaN"'), "bad.svg, line 9, notch-front", '"NaN" is not a length'),
    ],
)
def test_a_bad_file_is_refused_with_its_place(text: str, where: str, what: str) -> None:
    fault = refused(text)
    assert fault.where == where
    assert fault.what.startswith(what)


BOMB = "".join(f'<!ENTITY {b} "{f"&{a};" * 10}">' for a, b in itertools.pairwise("abcdefghij"))


@pytest.mark.parametrize(
    "doctype",
    [
        f'<!DOCTYPE svg [<!ENTITY a "ha">{BOMB}]>',
        '<!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/passwd">]>',
        '<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "svg11.dtd" [<!ENTITY a "b">]>',
        '<!DOCTYPE svg [<!ATTLIST path id CDATA "hem">]>',
        '<!DOCTYPE svg SYSTEM "http://example.org/own.dtd">',
        "<!DOCTYPE html>",
    ],
)
def test_a_document_type_of_its_own_is_refused(doctype: str) -> None:
    fault = refused(f"{doctype}\n{WHOLE.replace('Block', '&j;&x;')}")
    assert fault.right == "leave the DOCTYPE out"


def test_the_document_type_of_svg_itself_is_harmless() -> None:
    # As in the examples of the SVG 1.1 recommendation; the address is never opened.
    doctype = (
        '<?xml version="1.0" standalone="no"?>\n<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" '
        '"http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd">\n'
    )
    assert read_svg((doctype + WHOLE).encode(), "good.svg") == read_svg(WHOLE.encode(), "good.svg")
    # Only the definition that is not read could say what such an entity is.
    assert refused(doctype + WHOLE.replace("M0-100", "M0&a;-100")).what == "refers to the entity &a;"


def test_what_cannot_be_opened_is_refused(tmp_path: Path) -> None:
    for path in (tmp_path, tmp_path / "none.svg", tmp_path / "a\0b"):
        with pytest.raises(Fault, match="can't be read"):
            read_svg(path, "bad.svg")


def test_a_file_that_is_too_large_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "large.svg"
    path.write_bytes(WHOLE.encode() + b" " * 8_000_000)
    for source in (path, path.read_bytes()):
        with pytest.raises(Fault, match="is larger than 8 MB"):
            read_svg(source, "bad.svg")


@pytest.mark.parametrize(
    ("content", "what"),
    [
        (gzip.compress(WHOLE.encode()), "is compressed"),
        (WHOLE.replace("Block", "Ärmel").encode("latin-1"), "is not UTF-8 text at byte"),
        (b'<?xml version="1.0" encoding="ISO-8859-1"?>' + WHOLE.encode(), "is written in ISO-8859-1"),
        (b'<?xml version="1.0" encoding="utf-7"?>' + WHOLE.encode(), "is written in utf-7"),
        (WHOLE.encode("utf-32"), "is not well-formed XML"),
        (WHOLE.encode("utf-16")[:-1], "is not UTF-16 text at byte"),
        (b"\xff\xfe\x00\xd8", "is not UTF-16 text at byte"),
        (bytes(range(256)), "is no text, and no drawing in SVG"),
        (b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR", "is no text, and no drawing in SVG"),
    ],
)
def test_a_file_in_another_encoding_is_refused(content: bytes, what: str) -> None:
    assert refused(content).what.startswith(what)


def nested(depth: int) -> str:
    return f"{OPEN}{'<g>' * depth}{SEAMS}{'</g>' * depth}</svg>"


def test_nesting_has_an_end() -> None:
    assert read_svg(nested(150).encode(), "deep.svg").sleeve == read_svg(nested(0).encode(), "flat.svg").sleeve
    for depth in (200, 100_000):
        assert "nests deeper than 200 elements" in refused(nested(depth)).what


@pytest.mark.parametrize(
    ("inside", "what"),
    [
        ('<g id="a"><use href="#a"/></g>', "is a use that shows itself"),
        ('<g id="a"><use href="#b"/></g><g id="b"><use href="#a"/></g>', "is a use that shows itself"),
        ('<use id="a" href="#a"/>', "is a use that shows itself"),
        ('<use id="hem" href="#none"/>', "is a use of something that can't be followed here"),
        ('<use id="hem" href="other.svg#hem"/>', "is a use of something that can't be followed here"),
        ('<symbol id="s"><path d="M0 0H9"/></symbol><use id="hem" href="#s"/>', "is a use of something"),
        (
            '<defs><path id="hem" d="M1 4H-1"/></defs><use href="#hem"/><use x="9" href="#hem"/>',
            "is used at two places",
        ),
    ],
)
def test_uses_that_lead_nowhere_are_refused(inside: str, what: str) -> None:
    without = SEAMS.replace('<path id="hem" d="M110 450L-110 450"/>\n', "")
    assert refused(f"{OPEN}{inside}{without}</svg>").what.startswith(what)


def test_uses_that_multiply_are_refused() -> None:
    # Ten uses of ten uses of ten uses ...: 10^9 lines.
    levels = "".join(f'<g id="l{k + 1}">' + f'<use href="#l{k}"/>' * 10 + "</g>" for k in range(9))
    start = time.monotonic()
    fault = refused(f'{OPEN}<defs><path id="l0" d="M0 0H9"/>{levels}</defs><use href="#l9"/>{SEAMS}</svg>')
    assert "is drawn too often or too deep" in fault.what
    assert time.monotonic() - start < 20


LONG = '<path id="{}" d="M110 450' + "h.01" * 60_000 + '"/>'


@pytest.mark.parametrize(
    ("inside", "what"),
    [
        ("<g/>" * 100_001, "has more than 100,000 elements"),
        (f'<path id="grain" d="M0 0{"h1" * 100_001}"/>', "draws more than 100,000 curves"),
        (LONG.format("notch-a") + LONG.format("notch-b"), "draws more than 100,000 curves with those before it"),
        ('<g id="grain">' + '<path d="M0 0h9"/>' * 200 + "</g>", "draws more than 100 separate lines"),
        (f'<path id="grain" d="{"M0 0h9" * 200}"/>', "draws more than 100 separate lines"),
        (f'<path id="armhole-back" d="M0 0{"v-.01" * 10_001}"/>', "is drawn in 10,001 curves"),
        (f'<g transform="{"scale(1)" * 101}"><path id="grain" d="M0 0V9"/></g>', "has a transform of more than 100"),
        (f'<polyline id="grain" points="{"1 " * 200_001}"/>', "has more than 200,000 numbers"),
        ("".join(f'<circle id="notch-{k}"/>' for k in range(101)), "has 101 notches"),
        ('<circle id="notch-\u202e"/>', "has an id that can't be shown"),
        (f'<circle id="notch-{"x" * 200}"/>', "has an id that can't be shown"),
        (f'<path id="grain" d="M0 0h{"1" * 101}"/>', 'the number "11111111111111111111…" has 101 characters'),
        ('<path id="grain" style="transform: rotate(3deg)" d="M0 0V9"/>', "places lines by the style transform"),
        ('<path id="grain" transform="scale(2)" transform-origin="9 9" d="M0 0V9"/>', "has a transform-origin"),
        ("<style>g { rotate: 30deg }</style>", "places lines by the style rotate"),
        ('<path id="armhole-back" d="M0 0V-90" data-origin="1"/>', 'has the data-origin "1"'),
        ('<polyline id="grain" points="1 2 3"/>', "has 3 numbers as points"),
        ('<svg viewBox="0 0 1 1"><path id="grain" d="M0 0V9"/></svg>', "is a nested svg with a viewBox"),
    ],
)
def test_limits_hold(inside: str, what: str) -> None:
    assert refused(f"{OPEN}{inside}{SEAMS}</svg>").what.startswith(what)


def test_no_fault_can_steer_a_terminal() -> None:
    fault = refused(f'{OPEN}<path id="hem\u009b2J\u202e" d="M0 0H9"/></svg>')
    assert str(fault).isprintable()


SPLICES = [
    *("<", ">", "/>", '"', "&", "&#0;", "&#xD800;", "]]>", "<!--", "<g>", "</g>", "<svg>", "<defs>"),
    *("M", "Z", "C", "q", "t", "A1 1 0 01", "l0 0", "a0 0 0 1 1 9 9", "h", ",", ".", "-", "e", "0", "9"),
    *("1e999", "-1e11", "1e-40", "nan", "inf", "1e12", "-0", "99999999", "%", "mm", "em", " 180", ")"),
    *('transform="scale(0)" ', 'transform="skewX(90)" ', 'transform="matrix(1 0 0 1e9 0 0)" ', "rotate("),
    *('id="hem" ', 'id="grain" ', 'id="notch-front-9" ', 'id="side-back" ', 'id="across-back" '),
    *('<use href="#hem"/>', '<use href="#piece"/>', 'style="d:path()" ', 'data-origin="1 2" '),
    *('viewBox="0 0 1 1" ', 'preserveAspectRatio="none" ', "\x00", "é", "\u202e", "<!DOCTYPE svg>"),
]


@st.composite
def spoilt(draw: st.DrawFn) -> bytes:
    """The file with pieces left out, put in, doubled, or its numbers changed."""
    text = WHOLE
    for _ in range(draw(st.integers(1, 4))):
        at = draw(st.integers(0, len(text)))
        end = min(len(text), at + draw(st.integers(0, 30)))
        kind = draw(st.sampled_from(["out", "in", "over", "double", "number", "number"]))
        if kind == "number":
            numbers = list(re.finditer(r"-?[0-9.]+", text))
            if numbers:
                found = draw(st.sampled_from(numbers))
                new = draw(st.floats(allow_nan=False).map(repr) | st.floats(-500, 500).map(repr))
                text = f"{text[: found.start()]} {new} {text[found.end() :]}"
        elif kind == "double":
            text = text[:end] + text[at:]
        else:
            put = "" if kind == "out" else draw(st.sampled_from(SPLICES))
            text = text[:at] + put + text[at if kind == "in" else end :]
    return text.encode()


@settings(max_examples=250)
@given(spoilt() | st.binary(max_size=200) | st.text(max_size=200).map(str.encode))
def test_whatever_is_in_a_file_it_is_a_pattern_or_a_fault(content: bytes) -> None:
    try:
        pattern = read_svg(content, "bad.svg")
    except Fault as fault:
        line = str(fault)
    else:
        # What is let through is sound enough to be written and read again.
        again = read_svg(write_svg(pattern).encode(), "again.svg")
        for one, two in zip(pattern.sleeve.curves(), again.sleeve.curves(), strict=True):
            assert abs(one.controls - two.controls).max() < 1e-7
        return
    assert line.startswith("bad.svg")
    assert line.isprintable()


def test_two_ids_that_name_one_mark_are_a_fault() -> None:
    pattern = draft(
        DraftSpec(armhole_front=215, armhole_back=225, cap_ease=20, bicep_girth=330, sleeve_length=590, hem_girth=240)
    )
    drawn = write_svg(pattern)
    for known, other in (
        ("notch-back-1", "cap-back-mark-notch-back-1"),
        ("armhole-notch-front", "armhole-front-mark-notch-front"),
    ):
        start = drawn.index(f'id="{known}"')
        element = drawn[drawn.rindex("<", 0, start) : drawn.index(">", start) + 1]
        twice = drawn.replace(element, element + element.replace(known, other))
        with pytest.raises(Fault, match="second mark"):
            read_svg(twice.encode(), "twice.svg")
