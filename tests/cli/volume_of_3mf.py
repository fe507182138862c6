"""Prints what the triangles of a 3MF file enclose, in mm3, and how many bodies it holds."""
import sys
import xml.etree.ElementTree as tree
import zipfile

CORE = "{http://schemas.microsoft.com/3dmanufacturing/core/2015/02}"

model = tree.fromstring(zipfile.ZipFile(sys.argv[1]).read("3D/3dmodel.model"))
assert model.get("unit") == "millimeter", model.get("unit")
meshes = list(model.iter(CORE + "mesh"))
six_volumes = 0.0
for mesh in meshes:
    at = [[float(vertex.get(axis)) for axis in "xyz"] for vertex in mesh.iter(CORE + "vertex")]
    for triangle in mesh.iter(CORE + "triangle"):
        a, b, c = (at[int(triangle.get(corner))] for corner in ("v1", "v2", "v3"))
        six_volumes += (a[0] * (b[1] * c[2] - b[2] * c[1]) + a[1] * (b[2] * c[0] - b[0] * c[2])
                        + a[2] * (b[0] * c[1] - b[1] * c[0]))
print(len(meshes), six_volumes / 6.0)
