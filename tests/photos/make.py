"""Makes the pictures in tests/data/photos: small ones that tell a good deal beside what they show.

    python -m pip install pillow==13.0.0 piexif==1.1.3
    python tests/photos/make.py

Wherever a word may be hidden in a file, CANARY stands there, with the place behind it.
"""

import io
import struct
import zlib
from pathlib import Path

import piexif
import PIL
from PIL import Image, ImageCms, ImageDraw
from PIL.PngImagePlugin import PngInfo

assert PIL.__version__ == "13.0.0" and piexif.VERSION == "1.1.3", "the versions above make these very bytes"

OUT = Path(__file__).resolve().parent.parent / "data" / "photos"
# The library dates a profile when it is made: here all are of one day.
MADE = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
PROFILE = MADE[:24] + struct.pack(">6H", 2026, 1, 1, 0, 0, 0) + MADE[36:]


def canary(place):
    return b"CANARY " + place.encode()


def picture(turn=0, mode="RGB"):
    """A shore at 48 by 32 points; every point has a colour of its own."""
    image = Image.new("RGB", (48, 32))
    image.putdata([((5 * x + turn) % 256, (8 * y) % 256, (3 * x + 5 * y) % 256) for y in range(32) for x in range(48)])
    ImageDraw.Draw(image).ellipse((14 + turn % 9, 8, 34, 24), fill=(200, 90, 40), outline=(20, 20, 60))
    if mode == "RGBA":
        image.putalpha(Image.linear_gradient("L").resize(image.size))
    return image.convert(mode) if mode != "RGBA" else image


def jpeg(image, **options):
    out = io.BytesIO()
    image.save(out, "JPEG", quality=85, **options)
    return out.getvalue()


def exif(orientation):
    small = jpeg(picture(90).resize((24, 16)), comment=canary("thumbnail"))
    return piexif.dump({
        "0th": {
            piexif.ImageIFD.Orientation: orientation,
            piexif.ImageIFD.Make: canary("make"),
            piexif.ImageIFD.Model: canary("model"),
            piexif.ImageIFD.Artist: canary("artist"),
            piexif.ImageIFD.ImageDescription: canary("description"),
            piexif.ImageIFD.DateTime: b"2026:03:05 08:00:00",
        },
        "Exif": {
            piexif.ExifIFD.MakerNote: canary("maker note"),
            piexif.ExifIFD.UserComment: b"ASCII\0\0\0" + canary("user comment"),
            piexif.ExifIFD.BodySerialNumber: canary("serial number"),
        },
        "GPS": {
            piexif.GPSIFD.GPSLatitudeRef: b"S",
            piexif.GPSIFD.GPSLatitude: ((12, 1), (34, 1), (5678, 100)),
            piexif.GPSIFD.GPSLongitudeRef: b"E",
            piexif.GPSIFD.GPSLongitude: ((98, 1), (7, 1), (6543, 100)),
            piexif.GPSIFD.GPSMapDatum: canary("gps"),
        },
        "1st": {piexif.ImageIFD.Compression: 6, piexif.ImageIFD.Make: canary("small make")},
        "thumbnail": small,
    })


XMP = b"<x:xmpmeta xmlns:x='adobe:ns:meta/'><note>" + canary("xmp") + b"</note></x:xmpmeta>"


def segment(code, body):
    return struct.pack(">BBH", 0xFF, code, len(body) + 2) + body


def behind_start(data, *segments):
    """Puts segments behind the JFIF block that the file begins with."""
    assert data[:4] == b"\xff\xd8\xff\xe0"
    at = 4 + struct.unpack(">H", data[4:6])[0]
    return data[:at] + b"".join(segments) + data[at:]


def with_small_jfif(data):
    """Gives the JFIF block a small copy of its own, of 3 by 4 points."""
    length = struct.unpack(">H", data[4:6])[0]
    head = data[6:6 + length - 4]
    return data[:2] + segment(0xE0, head + bytes((3, 4)) + (canary("jfif copy") * 3)[:36]) + data[4 + length:]


def between_scans(data, *segments):
    """Puts segments behind each scan but the last."""
    out, at, scans = bytearray(), 2, []
    while (code := data[at + 1]) != 0xD9:
        at += 2 + struct.unpack(">H", data[at + 2:at + 4])[0]
        if code == 0xDA:
            while data[at] != 0xFF or data[at + 1] == 0 or 0xD0 <= data[at + 1] <= 0xD7:
                at += 1
            scans.append(at)
    assert len(scans) > 3, "a progressive picture"
    last = 0
    for at in scans[:-1]:
        out += data[last:at] + b"".join(segments)
        last = at
    return bytes(out + data[last:])


def jpegs():
    others = [
        segment(0xE1, b"http://ns.adobe.com/xap/1.0/\0" + XMP),
        segment(0xE2, b"MPF\0" + canary("second pictures")),
        segment(0xE0, b"JFXX\0\x10" + canary("jfxx")),
        segment(0xED, b"Photoshop 3.0\0" + canary("iptc")),
        segment(0xEB, canary("app11")),
    ]
    told = jpeg(picture(), exif=exif(6), icc_profile=PROFILE, comment=canary("comment"))
    told = with_small_jfif(told) if told[2:4] == b"\xff\xe0" else behind_start_exif(told)
    told = behind_start(told, *others)
    told += jpeg(picture(30), comment=canary("second picture")) + canary("motion clip")
    yield "told.jpg", told
    layered = jpeg(picture(60), progressive=True, exif=exif(8), comment=canary("comment"))
    layered = between_scans(layered, segment(0xFE, canary("between scans")), segment(0xE1, XMP))
    yield "layered.jpg", layered + canary("behind")
    # Four inks: only the block of its application says how they are laid.
    inks = jpeg(picture(20, "CMYK"), comment=canary("comment"))
    yield "inks.jpg", inks


def behind_start_exif(data):
    """The library writes no JFIF block beside an Exif one: the block of its plain pictures is put in front."""
    plain = jpeg(picture())
    head = plain[2:4 + struct.unpack(">H", plain[4:6])[0]]
    return with_small_jfif(data[:2] + head + data[2:])


def chunk(kind, body):
    return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))


def png(image, **options):
    info = PngInfo()
    info.add(b"gAMA", struct.pack(">I", 45455))
    info.add(b"prVt", canary("private"))
    info.add(b"tIME", struct.pack(">HBBBBB", 2026, 3, 5, 8, 0, 0))
    info.add_text("Comment", "CANARY text")
    info.add_text("Packed", "CANARY packed " * 9, zip=True)
    info.add_itxt("XML:com.adobe.xmp", "CANARY international text", "en", "Words")
    out = io.BytesIO()
    image.save(out, "PNG", pnginfo=info, exif=exif(3)[6:], **options)
    data = out.getvalue()
    assert data.endswith(chunk(b"IEND", b""))
    return data[:-12] + chunk(b"teXt", canary("late")) + data[-12:] + canary("behind")


def pngs():
    indexed = picture(40).quantize(24)
    yield "told.png", png(indexed, transparency=bytes(range(0, 240, 10)), dpi=(72, 72))
    yield "clear.png", png(picture(10, "RGBA"), icc_profile=PROFILE)
    frames = [picture(turn) for turn in (3, 6)]
    yield "moving.png", png(picture(), save_all=True, append_images=frames, duration=100, loop=0)


def riff(chunks):
    body = b"WEBP" + b"".join(k + struct.pack("<I", len(b)) + b + b"\0" * (len(b) % 2) for k, b in chunks)
    return b"RIFF" + struct.pack("<I", len(body)) + body


def unriff(data, at):
    while at < len(data):
        length = struct.unpack("<I", data[at + 4:at + 8])[0]
        yield data[at:at + 4], data[at + 8:at + 8 + length]
        at += 8 + length + length % 2


def webp(image, **options):
    out = io.BytesIO()
    # Without the name that a JPEG puts in front: for a moving picture the library would leave it there.
    image.save(out, "WEBP", exif=exif(6)[6:], xmp=XMP, **options)
    chunks = list(unriff(out.getvalue(), 12))
    for at, (kind, body) in enumerate(chunks):
        if kind == b"ANMF":
            rider = canary("frame")
            chunks[at] = kind, body + b"RIDE" + struct.pack("<I", len(rider)) + rider + b"\0" * (len(rider) % 2)
    return riff(chunks + [(b"MINE", canary("unknown"))]) + canary("behind")


def webps():
    yield "told.webp", webp(picture(), quality=80, icc_profile=PROFILE)
    yield "clear.webp", webp(picture(50, "RGBA"), quality=80)
    frames = [picture(turn) for turn in (3, 6)]
    yield "moving.webp", webp(picture(), save_all=True, append_images=frames, duration=100, quality=80)
    out = io.BytesIO()
    picture(70).save(out, "WEBP", lossless=True)
    yield "plain.webp", riff([*unriff(out.getvalue(), 12), (b"EXIF", canary("exif"))])


OUT.mkdir(parents=True, exist_ok=True)
for make in (jpegs, pngs, webps):
    for name, data in make():
        assert len(data) <= 20_000, (name, len(data))
        (OUT / name).write_bytes(data)
