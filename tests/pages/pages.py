#!/usr/bin/env python3
"""Looks at the pages of a PDF as pictures: is there ink in the margins, is a page empty, how full is each, and
could what stands on two neighbours stand on one?

usage: pages.py MARGIN FILE.pdf...     MARGIN: millimetres at the left and the right edge that stay white

Prints a line for each fault and one with figures for each file; exit status 1 if there is a fault. Needs pdftoppm and pdftotext.
"""
import subprocess
import sys

DPI = 60
FOOT = 17  # millimetres at the foot of a page: its number and what the page is about
WHITE = 200
ONE_PAGE = 1  # two pages that are as full together


def pages_of(path):
    data = subprocess.run(["pdftoppm", "-gray", "-r", str(DPI), path], check=True, capture_output=True).stdout
    at = 0
    while at < len(data):
        kind, width, height, _ = data[at:at + 40].split(None, 4)[:4]
        assert kind == b"P5"
        # The head ends with one blank behind its fourth word.
        head = at
        for _ in range(3):
            head = data.index(b"\n", head) + 1
        size = int(width) * int(height)
        yield int(width), int(height), data[head:head + size]
        at = head + size


def pixels(millimetres):
    return int(millimetres * DPI / 25.4)


def look_at(path, margin):
    faults = []
    fills = []
    edge = pixels(margin)
    for number, (width, height, ink) in enumerate(pages_of(path), 1):
        rows = [ink[y * width:(y + 1) * width] for y in range(height)]
        body = rows[:height - pixels(FOOT)]
        if any(min(row[:edge]) < WHITE or min(row[-edge:]) < WHITE for row in rows):
            faults.append(f"page {number}: ink in the margin")
        inked = [y for y, row in enumerate(body) if min(row) < WHITE]
        if not inked:
            faults.append(f"page {number} is empty")
        fills.append((inked[-1] + 1) / len(body) if inked else 0)
    return faults, fills


def has_etudes(path):
    """Of each page, by what stands at its foot: etudes begin a page of their own."""
    text = subprocess.run(["pdftotext", "-layout", path, "-"], check=True, capture_output=True, text=True).stdout
    feet = [page.rstrip().rsplit("\n", 1)[-1].lower() for page in text.split("\f")]
    return ["etude" in foot or "line" in foot for foot in feet]


def faults_of_neighbours(fills, are_etudes):
    """Two pages of one kind that are half empty each. Not the first, and not the last: it stands alone."""
    return [f"pages {i + 1} and {i + 2} are {100 * fills[i]:.0f} and {100 * fills[i + 1]:.0f} % full: one would do"
            for i in range(1, len(fills) - 2)
            if fills[i] + fills[i + 1] < ONE_PAGE and are_etudes[i] == are_etudes[i + 1]]


def main():
    margin = float(sys.argv[1])
    status = 0
    for path in sys.argv[2:]:
        faults, fills = look_at(path, margin)
        faults += faults_of_neighbours(fills, has_etudes(path))
        for fault in faults:
            print(f"{path}: {fault}")
            status = 1
        thin = sum(fill < 0.6 for fill in fills[1:])
        print(f"{path}: {len(fills)} pages, {thin} under 60 % full")
    return status


sys.exit(main())
