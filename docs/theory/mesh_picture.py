# SPDX-License-Identifier: BSD-3-Clause
"""Draws the cells of a section from a results file of `stallwright cook -o`: python3 mesh_picture.py RESULTS.h5 PICTURE.svg"""
import sys

import h5py

results, picture = sys.argv[1:]
with h5py.File(results) as file:
    of, along, up = (file[f"cell_corner_{name}"][:] for name in ("of", "along", "height"))
    fat = [share != share for share in file["collagen_at_end"][:]]  # lean meat's reactions do not belong there
    outline = list(zip(file["outline_along"][:], file["outline_height"][:]))

DOTS = 2400  # a metre
WIDTH, HEIGHT = (DOTS * max(p[k] for p in outline) + 20 for k in (0, 1))


def place(x, y):
    return round(10 + DOTS * x, 1), round(HEIGHT - 10 - DOTS * y, 1)


edges, filled = set(), ""
for cell in range(int(of[-1]) + 1):
    corners = [place(x, y) for x, y in zip(along[of == cell], up[of == cell])]
    if fat[cell]:
        filled += "M" + "L".join(f"{x:g} {y:g}" for x, y in corners) + "Z"
    for a, b in zip(corners, corners[1:] + corners[:1]):
        if a != b:
            edges.add((min(a, b), max(a, b)))
lines = "".join(f"M{a[0]:g} {a[1]:g}L{b[0]:g} {b[1]:g}" for a, b in sorted(edges))
rim = " ".join("{:g},{:g}".format(*place(x, y)) for x, y in outline)
with open(picture, "w", encoding="utf-8") as file:
    file.write(f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH:.0f} {HEIGHT:.0f}" role="img">\n'
               f'<title>The cells of a section</title>\n<rect width="100%" height="100%" fill="#fff"/>\n'
               f'<path d="{filled}" fill="#f0dcae"/>\n<path d="{lines}" stroke="#555" stroke-width="0.5" fill="none"/>\n'
               f'<polygon points="{rim}" stroke="#000" stroke-width="1.5" fill="none"/>\n</svg>\n')
