"""Compares a grey picture with its reference, or keeps it as the new one.

    compare_pictures.py PICTURE.pgm REFERENCE.png        says how they differ; status 0 where they are alike
    compare_pictures.py --keep PICTURE.pgm REFERENCE.png

Alike: of one size, grey levels apart by half of one in 255 on average at most, and not more than 2 dots in 1000 by more
than 96. Smoothing of another release stays within that; a view, a table or a title that is gone or elsewhere does not.
"""
import struct
import sys
import zlib

MEAN_WITHIN, FAR, FAR_SHARE = 0.5, 96, 0.002


def read_pgm(path):
    data = open(path, "rb").read()
    fields = data.split(None, 4)[:4]
    assert fields[0] == b"P5" and fields[3] == b"255", path
    width, height = int(fields[1]), int(fields[2])
    return width, height, data[-width * height:]


def write_png(path, width, height, grey):
    def chunk(name, body):
        return struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))
    rows = b"".join(b"\0" + grey[y * width:(y + 1) * width] for y in range(height))
    header = struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)
    with open(path, "wb") as file:
        file.write(b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + chunk(b"IDAT", zlib.compress(rows, 9)) + chunk(b"IEND", b""))


def read_png(path):
    """As write_png wrote it: grey, 8 bits, unfiltered rows."""
    data = open(path, "rb").read()
    width, height = struct.unpack(">II", data[16:24])
    at, packed = 8, b""
    while at < len(data):
        length, = struct.unpack(">I", data[at:at + 4])
        if data[at + 4:at + 8] == b"IDAT":
            packed += data[at + 8:at + 8 + length]
        at += 12 + length
    rows = zlib.decompress(packed)
    return width, height, b"".join(rows[y * (width + 1) + 1:(y + 1) * (width + 1)] for y in range(height))


def main(words):
    if words[0] == "--keep":
        write_png(words[2], *read_pgm(words[1]))
        return 0
    width, height, grey = read_pgm(words[0])
    its_width, its_height, its_grey = read_png(words[1])
    if (width, height) != (its_width, its_height):
        print(f"{width} x {height} dots, wanted {its_width} x {its_height}")
        return 1
    apart = [abs(a - b) for a, b in zip(grey, its_grey)]
    mean, far = sum(apart) / len(apart), sum(one > FAR for one in apart) / len(apart)
    print(f"{mean:.2f} of 255 apart on average, {100 * far:.2f} % of the dots by more than {FAR}")
    return 0 if mean <= MEAN_WITHIN and far <= FAR_SHARE else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
