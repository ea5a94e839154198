"""Makes the stored DXF files of this folder, and what lines they hold, with ezdxf (Debian: python3-ezdxf).

Run with the system's Python: /usr/bin/python3 tests/io/dxf/make.py
The lines are ezdxf's own: its blocks drawn by `virtual_entities`, its curves flattened to 0.5 mm. Invented drawings.
"""
import json
import math
import os
import ezdxf
from ezdxf import path
from ezdxf.math import Matrix44

HERE = os.path.join(os.path.dirname(os.path.abspath(__file__)), 'made')
SKIPPED = {'HATCH', 'POINT', 'MTEXT', 'TEXT', 'ATTRIB', 'ATTDEF', 'VIEWPORT'}


def flat(entity):
    """Every drawn entity below this one, blocks opened."""
    if entity.dxftype() == 'INSERT':
        for each in entity.multi_insert():
            for inner in each.virtual_entities():
                yield from flat(inner)
    elif entity.dxftype() == 'DIMENSION':
        for inner in entity.virtual_entities():
            yield from flat(inner)
    else:
        yield entity


def total(doc):
    """Length of all lines of the model space, and how many there are."""
    length, count = 0.0, 0
    for entity in doc.modelspace():
        for e in flat(entity):
            if e.dxftype() in SKIPPED:
                continue
            if e.dxftype() == 'SOLID':
                continue
            points = list(path.make_path(e).flattening(0.05))
            length += sum(a.distance(b) for a, b in zip(points, points[1:]))
            count += 1
    return length, count


def rooms(space, unit):
    """Two rooms, 4.2 by 3.6 m and 2.4 by 3.6 m, walls of 250 and 100 mm, in `unit` mm."""
    def line(x0, y0, x1, y1, layer='WALLS'):
        space.add_line((x0 / unit, y0 / unit), (x1 / unit, y1 / unit), dxfattribs={'layer': layer})

    def box(x0, y0, x1, y1, layer='WALLS'):
        space.add_lwpolyline(
            [(x0 / unit, y0 / unit), (x1 / unit, y0 / unit), (x1 / unit, y1 / unit), (x0 / unit, y1 / unit)],
            close=True, dxfattribs={'layer': layer})

    box(-250, -250, 6950, 3850)
    box(0, 0, 4200, 3600)
    box(4300, 0, 6700, 3600)
    line(1000, -250, 1000, 0, 'OPENINGS')
    line(1900, -250, 1900, 0, 'OPENINGS')
    space.add_arc((1000 / unit, 0), 900 / unit, 0, 90, dxfattribs={'layer': 'DOORS'})
    line(1000, 0, 1000, 900, 'DOORS')


def everything(doc):
    """One of each: arcs, bulges, splines, ellipses, nested and mirrored and repeated blocks, dimensions."""
    space = doc.modelspace()
    doc.layers.add('FROZEN').freeze()
    doc.layers.add('OFF').off()
    far = 4_500_000
    space.add_line((far, far), (far + 3000, far + 4000))
    space.add_lwpolyline([(far, far, 0, 0, 0.5), (far + 2000, far, 0, 0, 0), (far + 2000, far + 1000, 0, 0, -1)],
                         close=True)
    space.add_circle((far + 500, far + 500), 400)
    space.add_arc((far + 900, far), 700, 300, 60)
    space.add_ellipse((far, far + 2000), major_axis=(900, 300), ratio=0.4, start_param=0.3, end_param=4)
    space.add_open_spline([(far, far), (far + 500, far + 900), (far + 1000, far - 300),
                           (far + 1700, far + 200), (far + 2300, far)], degree=3)
    door = doc.blocks.new('DOOR', base_point=(100, 50))
    door.add_line((100, 50), (1000, 50))
    door.add_arc((100, 50), 900, 0, 90)
    door.add_circle((200, 200), 30, dxfattribs={'layer': 'KNOBS'})
    pair = doc.blocks.new('PAIR', base_point=(10, 20))
    pair.add_blockref('DOOR', (0, 0))
    pair.add_blockref('DOOR', (2000, 0), dxfattribs={'xscale': -1})
    space.add_blockref('DOOR', (far + 100, far + 100), dxfattribs={'rotation': 30, 'layer': 'OPENINGS'})
    space.add_blockref('PAIR', (far + 400, far), dxfattribs={'rotation': 90, 'xscale': 2, 'yscale': 2})
    space.add_blockref('DOOR', (far, far), dxfattribs={
        'column_count': 3, 'row_count': 2, 'column_spacing': 1500, 'row_spacing': 2500, 'rotation': 15})
    behind = space.add_arc((-(far + 100), far + 300), 250, 10, 130)
    behind.dxf.extrusion = (0, 0, -1)
    turned = space.add_lwpolyline([(-(far + 10), far), (-(far + 600), far + 50, 0, 0, 0.4), (-(far + 900), far + 800)])
    turned.dxf.extrusion = (0, 0, -1)
    space.add_line((far, far), (far + 10, far), dxfattribs={'layer': 'FROZEN'})
    space.add_line((far, far), (far, far + 10), dxfattribs={'layer': 'OFF'})
    space.add_text('Küche', dxfattribs={'height': 200, 'insert': (far + 500, far + 500)})
    space.add_hatch().paths.add_polyline_path([(far, far), (far + 10, far), (far, far + 10)])
    space.add_point((far, far))


def save(doc, name, expected):
    doc.saveas(os.path.join(HERE, name + '.dxf'))
    length, count = total(doc)
    expected[name] = {'length': length, 'lines': count}


def main():
    os.makedirs(HERE, exist_ok=True)
    expected = {}
    for version in ('R12', 'R2000', 'R2010', 'R2018'):
        doc = ezdxf.new(version)
        doc.header['$INSUNITS'] = 4
        rooms(doc.modelspace(), 1) if version != 'R12' else rooms_r12(doc)
        save(doc, 'rooms-' + version.lower(), expected)
    lying = ezdxf.new('R2010')
    lying.header['$INSUNITS'] = 1
    rooms(lying.modelspace(), 1000)
    save(lying, 'rooms-metres-says-inches', expected)
    doc = ezdxf.new('R2018')
    doc.header['$INSUNITS'] = 4
    everything(doc)
    save(doc, 'everything-r2018', expected)
    with open(os.path.join(HERE, 'expected.json'), 'w') as f:
        json.dump(expected, f, indent=2, sort_keys=True)
        f.write('\n')


def rooms_r12(doc):
    """R12 knows no LWPOLYLINE: old polylines with vertices of their own."""
    space = doc.modelspace()
    for x0, y0, x1, y1 in ((-250, -250, 6950, 3850), (0, 0, 4200, 3600), (4300, 0, 6700, 3600)):
        space.add_polyline2d([(x0, y0), (x1, y0), (x1, y1), (x0, y1)], close=True, dxfattribs={'layer': 'WALLS'})
    for x in (1000, 1900):
        space.add_line((x, -250), (x, 0), dxfattribs={'layer': 'OPENINGS'})
    space.add_arc((1000, 0), 900, 0, 90, dxfattribs={'layer': 'DOORS'})
    space.add_line((1000, 0), (1000, 900), dxfattribs={'layer': 'DOORS'})


main()
