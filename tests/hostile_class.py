"""Files that a class might hand in and nobody should: by kind, each with the words that its one line must hold.

Every one is meant for the small class of ``class_for_tests``, and is handed in beside good answers.
"""

from __future__ import annotations

import io
import zipfile
from dataclasses import dataclass, field

from blocks import pattern

from tutor.pattern.svg_write import write_svg

HEAD = 'homework = "Small homework"\nlearner = "Tove"\nvariant = "{deal}"\n'
SVG = '<svg xmlns="http://www.w3.org/2000/svg" width="900mm" height="900mm" viewBox="-450 -300 900 900">'
BLOCK = write_svg(pattern())
SEAMS = BLOCK[BLOCK.index("<g") : BLOCK.rindex("</svg>")]
XXE = '<!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/passwd">]>'
BOMB = (
    "<!DOCTYPE svg ["
    + '<!ENTITY a0 "aaaaaaaaaa">'
    + "".join(f'<!ENTITY a{k} "{f"&a{k - 1};" * 10}">' for k in range(1, 10))
    + "]>"
)


@dataclass(frozen=True)
class Bad:
    """A bad file: its name and content, what its line holds, and what else is handed in with it."""

    name: str
    content: bytes
    line: str
    beside: dict[str, bytes] = field(default_factory=dict)


def form(body: str, line: str, **beside: bytes) -> Bad:
    """A form of Tove's; ``beside`` are files by their names, dots as underlines."""
    files = {name.replace("_", "."): content for name, content in beside.items()}
    return Bad("tove.toml", (HEAD + body).encode("utf-8", "surrogatepass"), line, files)


def head(text: str, line: str) -> Bad:
    """A form with another head."""
    return Bad("tove.toml", f'{text}\n[[answers]]\ntask = 1\nanswer = "12.5 cm"\n'.encode(), line)


def drawing(content: str | bytes, line: str) -> Bad:
    """A drawing of Tove's for the second task."""
    return Bad("tove-2.svg", content if isinstance(content, bytes) else content.encode("utf-8", "replace"), line)


def table(content: str | bytes, line: str) -> Bad:
    return Bad("table.csv", content if isinstance(content, bytes) else content.encode(), line)


def answer(value: str, line: str) -> Bad:
    """A form whose first answer is a TOML value."""
    return form(f"[[answers]]\ntask = 1\nanswer = {value}\n", line)


def second(key: str, value: str, line: str, **beside: bytes) -> Bad:
    """A form whose second answer is given by a key."""
    return form(f"[[answers]]\ntask = 2\n{key} = {value}\n", line, **beside)


def zipped() -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        archive.writestr("../../escaped.toml", "x")
    return out.getvalue()


def crossing(count: int) -> str:
    """A plan of many slashes that all cross each other."""
    slashes = "".join(
        f'[[slash]]\nname = "s{k}"\nfrom = {{ seam = "cap-back", share = {(k + 1) / (count + 2)!r}, from = "crown" }}\n'
        f'to = {{ seam = "hem", share = {(k + 1) / (count + 2)!r}, from = "hem-back" }}\nhinge = "to"\n'
        for k in range(count)
    )
    return slashes


PATHS: dict[str, Bad] = {
    "up and out": second("plan", '"../../../../etc/passwd.toml"', "is no name of a file beside this one"),
    "from the root": second("pattern", '"/etc/passwd.svg"', "is no name of a file beside this one"),
    "another drive": second("pattern", '"C:\\\\boot.svg"', "is no name of a file beside this one"),
    "a share": second("pattern", '"\\\\\\\\host\\\\share\\\\a.svg"', "is no name of a file beside this one"),
    "a stream": second("pattern", '"a.svg::$DATA.svg"', "is no name of a file beside this one"),
    "an address": second("pattern", '"https://example.com/a.svg"', "is no name of a file beside this one"),
    "hidden": second("plan", '".ssh.toml"', "is no name of a file beside this one"),
    "a device": second("plan", '"/dev/zero"', "is no name of a file beside this one"),
    "a wild card": second("plan", '"*.toml"', "is no name of a file beside this one"),
    "another kind": second("plan", '"passwd"', "is no file for this"),
    "one too long": second("plan", f'"{"a" * 300}.toml"', "is no name of a file beside this one"),
    "an escape sequence": second("plan", '"\\u001b[31m.toml"', "plan"),
    "itself": second("plan", '"tove.toml"', "tove.toml"),
    "in a cell": table("name,2\nTove,../../secret.svg\n", "is no name of a file beside this one"),
    "another learner's": second("plan", '"anouk.toml"', "is called as a file of Anouk's"),
    "another learner's in a cell": table("name,2\nTove,anouk-2.svg\n", "is called as a file of Anouk's"),
    "nothing there": second("pattern", '"gone.svg"', "there is no such file"),
}
NAMES: dict[str, Bad] = {
    "an escape sequence": head('learner = "\\u001b]0;owned\\u0007Tove"', "has letters that can't be shown"),
    "right to left": head('learner = "evoT\\u202e"', "has letters that can't be shown"),
    "markup": head('learner = "<img src=x onerror=alert(1)>"', "who is not in the class"),
    "a formula": table('name,1\n"=HYPERLINK(""http://x"",""Tove"")",12.5\n', "who is not in the class"),
    "a path": head('learner = "../../../etc/passwd"', "who is not in the class"),
    "a megabyte": head(f'learner = "{"x" * 200_000}"', "has a name of 200000 letters"),
    "a number": head("learner = 7", "is a number"),
    "a list": head('learner = ["Tove"]', "is a list"),
    "nobody": head('learner = ""', "has no name"),
    "none": head('homework = "Small homework"', "learner: is missing"),
    "a null": head('learner = "To\\u0000ve"', "has letters that can't be shown"),
    "look-alike": head('learner = "Tоve"', "who is not in the class"),
}
FORMS: dict[str, Bad] = {
    "not text": Bad("tove.toml", b"\xff\xfe\x00\x01learner", "is not UTF-8 text"),
    "empty": Bad("tove.toml", b"", "belongs to no learner"),
    "a null": Bad("tove.toml", b"learner = \0", "is not TOML"),
    "a gigabyte of zeros": Bad("tove.toml", b"\0" * 300_000, "is over 256 KB"),
    "a million nested lists": Bad("tove.toml", b"learner = " + b"[" * 100_000, "nested"),
    "a million nested tables": Bad("tove.toml", b"learner = " + b"{a=" * 80_000, "nested"),
    "a dotted key": Bad("tove.toml", b"a" + b".a" * 100_000 + b" = 1", "parts"),
    "a dotted table": Bad("tove.toml", b"[a" + b".a" * 100_000 + b"]", "parts"),
    "ten thousand answers": form("[[answers]]\ntask = 1\n" * 10_000, "write at most 200"),
    "code": Bad("tove.toml", b"import os; os.system('rm -rf /')", "is not TOML"),
    "an unknown key": head('learner = "Tove"\nexec = "rm -rf /"', "is no key here"),
    "an ending more": Bad("tove.toml.txt", HEAD.encode(), "is no answer known here"),
    "an archive": Bad("tove.zip", zipped(), "is no answer known here"),
    "a program": Bad("tove.exe", b"MZ\x90\x00", "is no answer known here"),
    "a drawing for a form": Bad("tove.toml", BLOCK.encode(), "is not TOML"),
    "another homework": head('learner = "Tove"\nhomework = "Another"', 'answers "Another"'),
    "another's variant": head('learner = "Tove"\nvariant = "ZZZZZZ"', "gives a variant that nobody was dealt, ZZZZZZ"),
    "a day to come": head('learner = "Tove"\nhanded-in = 2999-12-31', "which is still to come"),
    "a day that isn't": head('learner = "Tove"\nhanded-in = 2026-02-30', "is not TOML"),
    "a time for a day": head('learner = "Tove"\nhanded-in = 07:30:00', "handed-in: is a date or time"),
    "keys twice": head('learner = "Tove"\nlearner = "Anouk"', "is not TOML"),
}
FIGURES: dict[str, Bad] = {
    "not a number": answer("nan", '"nan" is not a length'),
    "infinity": answer("-inf", '"-inf" is not a length'),
    "beyond all": answer('"1e999"', "is not a length"),
    "four thousand figures": answer("9" * 4000, "answer"),
    "five thousand figures": answer("9" * 5000, "figures"),
    "by nothing": answer('"1/0 in"', "divides by zero"),
    "a sum": answer('"1+1 cm"', "is not a length"),
    "a formula": answer("'=1+1'", "is not a length"),
    "code": answer("'__import__(\"os\")'", "is not a length"),
    "two readings": answer('"1,234"', "can mean two numbers"),
    "an escape sequence": answer('"\\u001b[2J12.5"', "has letters that can't be shown"),
    "a light year": answer('"9999999999 cm"', "is beyond 100 m"),
    "another script": answer('"١٢"', "is not a length"),
    "a hundred thousand letters": answer(f'"{"1" * 100_000}"', "has 100000 letters"),
    "yes": answer("true", "is true or false"),
    "a table": answer("{ cm = 3 }", "answer"),
    "an unknown unit": answer('"12 ells"', "ends in no unit known here"),
}
PLANS: dict[str, Bad] = {
    "ten thousand slashes": second("plan", '"p.toml"', "24 are enough", p_toml=b"[[slash]]\n" * 5_000),
    "a bomb of tables": second("plan", '"p.toml"', "nested", p_toml=b"slash = " + b"[" * 60_000),
    "nan to open": second(
        "plan",
        "{ slash = [{ name = 'a', from = 'crown', to = 'grain-hem' }],"
        " opening = [{ slash = 'a', at = 0, amount = nan }] }",
        "opening 1",
    ),
    "an unknown key": second("plan", "{ run = 'rm' }", '"run" is no key known here'),
    "a list for a plan": second("plan", "[1]", "plan"),
    "a drawing for a plan": second("plan", '"p.toml"', "is not TOML", p_toml=BLOCK.encode()),
    "solved for": second(
        "plan",
        "{ slash = [{ name = 'a', from = 'crown', to = 'grain-hem', hinge = 'to' }],"
        " opening = [{ slash = 'a', at = 0, for = { measure = 'cap-height', value = '9 cm' } }] }",
        "says what it is for",
    ),
    "a megabyte": second("plan", '"p.toml"', "is over 64 KB", p_toml=b"#" * 1_000_000),
}
DRAWINGS: dict[str, Bad] = {
    "an entity bomb": drawing(f"{BOMB}{SVG}<title>&a9;</title>{SEAMS}</svg>", "declares a document type of its own"),
    "an external entity": drawing(f"{XXE}{SVG}<title>&x;</title>{SEAMS}</svg>", "declares a document type of its own"),
    "a parameter entity": drawing(
        f'<!DOCTYPE svg [<!ENTITY % p SYSTEM "http://x/"> %p;]>{SVG}</svg>', "declares a document type of its own"
    ),
    "no XML": drawing(b"\x89PNG\r\n", "is no text, and no drawing in SVG"),
    "not closed": drawing(f"{SVG}{SEAMS}", "is not well-formed XML"),
    "another root": drawing("<html><script>alert(1)</script></html>", "begins with <html>"),
    "compressed": drawing(b"\x1f\x8b\x08\0\0\0", "is compressed"),
    "two megabytes": drawing(f"{SVG}<!--{'x' * 2_000_001}--></svg>", "is over 2 MB"),
    "deep groups": drawing(SVG + "<g>" * 50_000, "nests deeper than 200"),
    "a hundred thousand elements": drawing(SVG + "<g/>" * 100_001 + "</svg>", "has more than 100,000 elements"),
    "uses of uses": drawing(
        SVG
        + '<defs><path id="l0" d="M0 0H9"/>'
        + "".join(f'<g id="l{k + 1}">' + f'<use href="#l{k}"/>' * 10 + "</g>" for k in range(9))
        + f'</defs><use id="hem" href="#l9"/>{SEAMS.replace(chr(34) + "hem" + chr(34), chr(34) + "x" + chr(34))}</svg>',
        "draws more than 100 separate lines",
    ),
    "a use of itself": drawing(f'{SVG}<g id="hem"><use href="#hem"/></g></svg>', "hem"),
    "nan in a path": drawing(f'{SVG}<path id="hem" d="M0 0 L nan inf"/></svg>', "hem"),
    "numbers beyond all": drawing(BLOCK.replace(' d="M', ' d="M1e300,1e300 M', 1), "is too large"),
    "a million curves": drawing(f'{SVG}<path id="cap-back" d="M0 0{"h1" * 300_000}"/>{SEAMS}</svg>', "cap-back"),
    "no seams": drawing(f"{SVG}<path d='M0 0H9'/></svg>", "draws no line with the id"),
    "crossing itself": drawing(
        f'{SVG}<path id="cap-back" d="M-165 0L100 -145"/><path id="cap-front" d="M100 -145L-100 -100L165 0"/>'
        '<path id="underarm-front" d="M165 0L-120 440"/><path id="hem" d="M-120 440L120 440"/>'
        '<path id="underarm-back" d="M120 440L-165 0"/></svg>',
        "crosses itself",
    ),
    "mirrored": drawing(
        BLOCK.replace("cap-back", "#")
        .replace("cap-front", "cap-back")
        .replace("#", "cap-front")
        .replace('"underarm-back"', "#")
        .replace('"underarm-front"', '"underarm-back"')
        .replace("#", '"underarm-front"'),
        "is mirrored",
    ),
    "half size": drawing(
        BLOCK.replace('mm" viewBox', 'mm" data-x="" viewBox')
        .replace('width="', 'width="1')
        .replace('height="', 'height="1'),
        "of its size",
    ),
    "scripts": drawing(f"{SVG}<script>alert(1)</script></svg>", "draws no line with the id"),
    "placed by style": drawing(
        BLOCK.replace("<title>", "<style>g{transform:scale(2)}</style><title>"), "places lines by the style"
    ),
    "ids twice": drawing(BLOCK.replace("</svg>", '<path id="hem" d="M0 0H9"/></svg>'), "is the id of two elements"),
    "called as handed out": Bad("tove-2-pattern.svg", SVG.encode(), "is not well-formed XML"),
    "in UTF-7": drawing('<?xml version="1.0" encoding="UTF-7"?><svg/>', "is written in UTF-7"),
}
TABLES: dict[str, Bad] = {
    "binary": table(b"\x00\x01\x02\x03", "zero bytes"),
    "not UTF-8": table(b"name,1\nTov\xe9,12.5\n", "is not UTF-8 text"),
    "a quote not closed": table('name,1\nTove,"12.5' + "x\n" * 90_000, "quote that is not closed"),
    "no names": table("task,1\nTove,12.5\n", "has no column called name"),
    "no tasks": table("name,colour\nTove,red\n", "has no column for a task"),
    "cells beyond": table("name,1\nTove,12.5,13,14\n", "has more cells than there are headings"),
    "a thousand columns": table("name," + ",".join(map(str, range(1, 900))) + "\nTove\n", "columns"),
    "twenty thousand rows": table("name,1\n" + "Nobody,1\n" * 20_001, "has more than 20,000 rows"),
    "a task that isn't": table("name,77\nTove,12.5\n", "answers task 77"),
    "a formula for an answer": table("name,1\nTove,\"=cmd|'/c calc'!A0\"\n", "is not a length"),
    "a date that isn't": table("name,1,handed-in\nTove,12.5,31/13/2025\n", "is no date"),
    "a date of two readings": table("name,1,handed-in\nTove,12.5,05/11/2025\n", "can mean two days"),
    "nine megabytes": table(b"name,1\n" + b"#" * 9_000_000, "is over 8 MB"),
    "a unit that isn't": table("name,1,units\nTove,12.5,ell\n", "is no unit"),
    "a cell of a hundred thousand": table(f"name,1\nTove,{'1' * 100_000}\n", "letters"),
}
POINTS: dict[str, Bad] = {
    "beyond 10 m": second("points", "{ hem = [[0, 0], [1e300, 1]] }", "beyond 10 m"),
    "nan": second("points", "{ hem = [[nan, 0], [1, 1]] }", "beyond 10 m"),
    "no pairs": second("points", "{ hem = [[0], [1]] }", "no pair of numbers"),
    "all in one place": second(
        "points",
        "{ "
        + ", ".join(
            f"{name} = [[0, 0], [0, 0]]" for name in ("hem", "cap-back", "cap-front", "underarm-back", "underarm-front")
        )
        + " }",
        "mm long",
    ),
    "an unknown seam": second("points", "{ collar = [[0, 0], [1, 1]] }", "is no line of a pattern"),
    "a formula in a table": second("points", '"p.csv"', "is not a length", p_csv=b"seam,x,y\nhem,=1+1,2\n"),
    "no columns": second("points", '"p.csv"', "has no column called", p_csv=b"a,b,c\n1,2,3\n"),
}
KINDS: dict[str, dict[str, Bad]] = {
    "paths": PATHS,
    "names": NAMES,
    "forms": FORMS,
    "figures": FIGURES,
    "plans": PLANS,
    "drawings": DRAWINGS,
    "tables": TABLES,
    "points": POINTS,
}
HOSTILE: dict[str, Bad] = {f"{kind}: {name}": bad for kind, files in KINDS.items() for name, bad in files.items()}
