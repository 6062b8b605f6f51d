"""Files made to hurt who reads them, each small enough to come by mail."""

import io
import json
import random
import struct
import zipfile
import zlib
from collections.abc import Callable
from datetime import datetime, timedelta
from pathlib import Path

CONTENT_TYPES = """<?xml version="1.0" encoding="UTF-8"?>
<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">
<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>
<Default Extension="xml" ContentType="application/xml"/>
<Override PartName="/xl/workbook.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/>
<Override PartName="/xl/worksheets/sheet1.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"/>
</Types>"""
RELATIONS = """<?xml version="1.0" encoding="UTF-8"?>
<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">
<Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument" Target="xl/workbook.xml"/>
</Relationships>"""
WORKBOOK = """<?xml version="1.0" encoding="UTF-8"?>
<workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"
 xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships">
<sheets><sheet name="Log" sheetId="1" r:id="rId1"/></sheets></workbook>"""
BOOK_RELATIONS = """<?xml version="1.0" encoding="UTF-8"?>
<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">
<Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="worksheets/sheet1.xml"/>
</Relationships>"""
BOMB = "".join(
    f'<!ENTITY a{level} "{f"&a{level - 1};" * 10}">' if level else '<!ENTITY a0 "hahahaha">'
    for level in range(10)
)
"""Each name stands for ten of the one before: a thousand million laughs."""


def a_log(rows: int = 60, *, newline: str = "\n") -> str:
    """Return a plain log that any reader reads."""
    begun = datetime(2026, 5, 2, 12, 0)  # noqa: DTZ001 - a logger's clock has no zone
    lines = ["time,pit (F),meat (F)"]
    lines += [f"{begun + timedelta(minutes=n)},{250 + n % 3},{40 + n % 160}" for n in range(rows)]
    return newline.join(lines) + newline


def _cell(place: str, value: str) -> str:
    return f'<c r="{place}" t="inlineStr"><is><t>{value}</t></is></c>'


def xlsx(rows: str, *, head: str = "", blanks: int = 0) -> bytes:
    """Return a workbook of one sheet with these rows, and MB of blanks (ECMA-376)."""
    before = (
        f'<?xml version="1.0" encoding="UTF-8"?>{head}'
        '<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">'
        f"<sheetData>{rows}"
    )
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as book:
        book.writestr("[Content_Types].xml", CONTENT_TYPES)
        book.writestr("_rels/.rels", RELATIONS)
        book.writestr("xl/workbook.xml", WORKBOOK)
        book.writestr("xl/_rels/workbook.xml.rels", BOOK_RELATIONS)
        with book.open("xl/worksheets/sheet1.xml", "w") as sheet:
            sheet.write(before.encode())
            for _ in range(blanks):
                sheet.write(b" " * 1_000_000)
            sheet.write(b"</sheetData></worksheet>")
    return out.getvalue()


def far_corner() -> bytes:
    """Return a workbook with a cell in the first and one in the very last place."""
    first = f'<row r="1">{_cell("A1", "time")}</row>'
    return xlsx(f'{first}<row r="1048576">{_cell("XFD1048576", "1")}</row>')


def ods(rows: str, *, head: str = "") -> bytes:
    """Return an open document of one table (ISO/IEC 26300)."""
    content = (
        f'<?xml version="1.0" encoding="UTF-8"?>{head}'
        '<office:document-content xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" '
        'xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" '
        'xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0"><office:body>'
        f'<office:spreadsheet><table:table table:name="Log">{rows}</table:table>'
        "</office:spreadsheet></office:body></office:document-content>"
    )
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as book:
        book.writestr(
            "mimetype", "application/vnd.oasis.opendocument.spreadsheet", zipfile.ZIP_STORED
        )
        book.writestr("content.xml", content)
        book.writestr(
            "META-INF/manifest.xml",
            '<?xml version="1.0"?><manifest:manifest '
            'xmlns:manifest="urn:oasis:names:tc:opendocument:xmlns:manifest:1.0"/>',
        )
    return out.getvalue()


def far_corner_ods() -> bytes:
    """Return an open document that repeats a cell as often as a sheet has places."""
    cell = (
        '<table:table-cell table:number-columns-repeated="16384" office:value-type="string">'
        "<text:p>1</text:p></table:table-cell>"
    )
    return ods(f'<table:table-row table:number-rows-repeated="1048576">{cell}</table:table-row>')


def zip_bomb() -> bytes:
    """Return a workbook whose sheet is a gigabyte of blanks, packed a thousand to one."""
    return xlsx("", blanks=1000)


def lying_zip() -> bytes:
    """Return a workbook whose directory says that its sheet is small, which it is not."""
    data = bytearray(xlsx("", blanks=600))
    at = data.rfind(b"xl/worksheets/sheet1.xml") - 46
    struct.pack_into("<I", data, at + 24, 1000)  # the unpacked size (APPNOTE 4.3.12)
    return bytes(data)


def entity_bomb() -> bytes:
    """Return a workbook with names that stand for names that stand for names."""
    return xlsx(f'<row r="1">{_cell("A1", "&a9;")}</row>', head=f"<!DOCTYPE x [{BOMB}]>")


def entity_bomb_ods() -> bytes:
    """Return the same in an open document."""
    cell = "<table:table-cell><text:p>&a9;</text:p></table:table-cell>"
    return ods(f"<table:table-row>{cell}</table:table-row>", head=f"<!DOCTYPE x [{BOMB}]>")


def deep_json(depth: int = 2_000_000) -> bytes:
    """Return lists within lists."""
    return b"[" * depth + b"]" * depth


def deep_objects(depth: int = 300_000) -> bytes:
    """Return objects within objects."""
    return b'{"a":' * depth + b"1" + b"}" * depth


def wide_json() -> bytes:
    """Return records of which each has a key of its own."""
    rows = [
        {"time": f"2026-05-02T12:{n // 60 % 60:02}:{n % 60:02}Z", f"k{n}": n} for n in range(6000)
    ]
    return json.dumps(rows).encode()


def png(width: int, height: int, rows: bytes = b"") -> bytes:
    """Return a picture that says it is so large (ISO/IEC 15948)."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        check = zlib.crc32(kind + data)
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", check)

    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    body = zlib.compress(rows or b"\0" * 4096)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", body) + chunk(b"IEND", b"")


def text_bomb() -> bytes:
    """Return a picture with a packed text of half a gigabyte beside it."""
    data = b"Comment\0\0" + zlib.compress(b"a" * 500_000_000, 9)
    check = zlib.crc32(b"zTXt" + data)
    chunk = struct.pack(">I", len(data)) + b"zTXt" + data + struct.pack(">I", check)
    whole = png(4, 4, b"\0" * 52)
    return whole[:33] + chunk + whole[33:]


def jpeg() -> bytes:
    """Return a plain photo."""
    from PIL import Image  # noqa: PLC0415 - only where pictures are made

    out = io.BytesIO()
    Image.effect_noise((640, 480), 60).convert("RGB").save(out, "JPEG")
    return out.getvalue()


def heic() -> bytes:
    """Return a photo as many phones write it."""
    return (Path(__file__).parents[1] / "files" / "pictures" / "noise.heic").read_bytes()


def many_frames() -> bytes:
    """Return a moving picture that says it is 60,000 pixels wide and high."""
    return b"GIF89a" + struct.pack("<HH", 60000, 60000) + b"\xf7\0\0" + b"\0" * 768 + b",;"


def huge_jpeg() -> bytes:
    """Return a photo whose head says 65,500 pixels by 65,500."""
    data = bytearray(jpeg())
    at = data.find(b"\xff\xc0")
    struct.pack_into(">HH", data, at + 5, 65500, 65500)
    return bytes(data)


LOGS: dict[str, Callable[[], bytes]] = {
    "plain": lambda: a_log().encode(),
    "corner.xlsx": far_corner,
    "corner.ods": far_corner_ods,
    "bomb.xlsx": zip_bomb,
    "lying.xlsx": lying_zip,
    "laughs.xlsx": entity_bomb,
    "laughs.ods": entity_bomb_ods,
    "deep.json": deep_json,
    "deep objects.json": deep_objects,
    "wide.json": wide_json,
    "one line.csv": lambda: b"1" * 50_000_000,
    "one line of cells.csv": lambda: b"1," * 10_000_000,
    "lines of nothing.csv": lambda: b"\n" * 20_000_000,
    "NULs.csv": lambda: b"\0" * 20_000_000,
    "NULs between.csv": lambda: a_log().replace(",", ",\0").encode(),
    "short of everything.csv": lambda: b"a",
    "columns.csv": lambda: ("time," + "," * 3000 + "\n").encode() * 3000,
    "digits.csv": lambda: (b"2026-05-02 12:00:00," + b"9" * 400 + b"\n") * 20_000,
    "quotes.csv": lambda: b'"' * 3_000_000,
    "colons.csv": lambda: (b"1:" * 900 + b"\n") * 3000,
    "blanks.csv": lambda: (b" " * 1500 + b"x\n") * 5000,
    "utf-16.csv": lambda: a_log(4000).encode("utf-16"),
    "half utf-16.csv": lambda: a_log(4000).encode("utf-16")[:-1],
    "empty": lambda: b"",
}
"""Each file of readings by its name."""

PHOTOS: dict[str, Callable[[], bytes]] = {
    "plain.jpg": jpeg,
    "plain.heic": heic,
    "huge.png": lambda: png(2_000_000_000, 2_000_000_000),
    "wide.png": lambda: png(88_000_000, 1),
    "square.png": lambda: png(20_000, 20_000),
    "text.png": text_bomb,
    "cut.jpg": lambda: jpeg()[:9000],
    "cut.heic": lambda: heic()[:3000],
    "head.heic": lambda: heic()[:40],
    "huge.jpg": huge_jpeg,
    "huge.gif": many_frames,
    "log.jpg": lambda: a_log().encode(),
    "empty.jpg": lambda: b"",
}
"""Each picture by its name."""


def damaged(data: bytes, rng: random.Random) -> bytes:
    """Return a file with some bytes changed, cut out or doubled."""
    found = bytearray(data)
    for _ in range(rng.randint(1, 12)):
        if not found:
            break
        at, span = rng.randrange(len(found)), rng.choice((1, 1, 2, 8, 200))
        match rng.randrange(4):
            case 0:
                found[at : at + span] = rng.randbytes(span)
            case 1:
                del found[at : at + span]
            case 2:
                found[at:at] = found[at : at + span] * rng.randint(1, 40)
            case _:
                found[at : at + span] = b"\xff" * span
    return bytes(found)
