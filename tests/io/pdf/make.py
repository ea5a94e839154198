"""Makes the stored samples of this folder: a picture in the codes that scans come in, and a locked PDF.

Run with a Python that has Pillow: python3 tests/io/pdf/make.py
CCITT group 4 by libtiff and JPEG 2000 by OpenJPEG (both through Pillow); the JBIG2 stream is one page with one
generic region coded by MMR, which is group 4 (ITU-T T.88, 6.2.6 and 7.4.6); the lock by Debian's qpdf. Invented content.
"""
import io
import os
import struct
import subprocess
from PIL import Image, ImageDraw

HERE = os.path.join(os.path.dirname(os.path.abspath(__file__)), 'made')
WIDTH, HEIGHT = 160, 96


def picture(mode, paper, ink):
    """A thick frame and a bar, dark on light."""
    image = Image.new(mode, (WIDTH, HEIGHT), paper)
    draw = ImageDraw.Draw(image)
    draw.rectangle((10, 10, WIDTH - 11, HEIGHT - 11), outline=ink, width=8)
    draw.rectangle((70, 10, 80, HEIGHT - 11), fill=ink)
    return image


def group4():
    """The one strip of a group 4 TIFF: ones are black there."""
    out = io.BytesIO()
    picture('1', 1, 0).save(out, 'TIFF', compression='group4', tiffinfo={278: HEIGHT})
    with Image.open(io.BytesIO(out.getvalue())) as tiff:
        at, length = tiff.tag_v2[273][0], tiff.tag_v2[279][0]
        assert len(tiff.tag_v2[273]) == 1 and tiff.tag_v2[262] in (0, 1)
        return out.getvalue()[at:at + length], tiff.tag_v2[262]


def jbig2(mmr):
    """Segments 0 (page) and 1 (immediate generic region, MMR), as a PDF embeds them: without the file's header."""
    page = struct.pack('>IIIIBH', WIDTH, HEIGHT, 0, 0, 0, 0)
    region = struct.pack('>IIIIB', WIDTH, HEIGHT, 0, 0, 0) + b'\x01' + mmr
    head = lambda number, kind, length: struct.pack('>IBBBI', number, kind, 0, 1, length)
    return head(0, 48, len(page)) + page + head(1, 38, len(region)) + region


os.makedirs(HERE, exist_ok=True)
strip, photometric = group4()
print('group 4:', len(strip), 'bytes, photometric', photometric)
open(os.path.join(HERE, 'scan.g4'), 'wb').write(strip)
open(os.path.join(HERE, 'scan.jb2'), 'wb').write(jbig2(strip))
out = io.BytesIO()
picture('L', 255, 0).save(out, 'JPEG2000')
open(os.path.join(HERE, 'scan.jp2'), 'wb').write(out.getvalue())
plain = os.path.join(HERE, 'plain.pdf')
picture('L', 255, 0).save(plain, 'PDF')
subprocess.run(['qpdf', '--encrypt', 'clay', 'clay', '256', '--', plain, os.path.join(HERE, 'locked.pdf')], check=True)
os.remove(plain)
