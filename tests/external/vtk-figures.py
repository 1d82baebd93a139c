"""Figures of VTK for meshes, planes, points and rows of points that come as JSON on standard input; as JSON on standard output."""
import json
import sys

import vtk


def points_of(flat):
    points = vtk.vtkPoints()
    points.SetDataTypeToDouble()
    for i in range(0, len(flat), 3):
        points.InsertNextPoint(flat[i], flat[i + 1], flat[i + 2])
    return points


def surface_of(mesh):
    surface = vtk.vtkPolyData()
    surface.SetPoints(points_of(mesh["positions"]))
    triangles = vtk.vtkCellArray()
    corners = mesh["triangles"]
    for i in range(0, len(corners), 3):
        triangles.InsertNextCell(3, corners[i : i + 3])
    surface.SetPolys(triangles)
    return surface


def length_of_cut(surface, normal, offset):
    plane = vtk.vtkPlane()
    plane.SetNormal(normal)
    plane.SetOrigin([n * offset for n in normal])
    cutter = vtk.vtkCutter()
    cutter.SetInputData(surface)
    cutter.SetCutFunction(plane)
    cutter.SetOutputPointsPrecision(vtk.vtkAlgorithm.DOUBLE_PRECISION)
    cutter.Update()
    cut = cutter.GetOutput()
    ends = vtk.vtkIdList()
    length = 0.0
    lines = cut.GetLines()
    lines.InitTraversal()
    while lines.GetNextCell(ends):
        for i in range(ends.GetNumberOfIds() - 1):
            a = cut.GetPoint(ends.GetId(i))
            b = cut.GetPoint(ends.GetId(i + 1))
            length += vtk.vtkMath.Distance2BetweenPoints(a, b) ** 0.5
    return length


def figures(asked):
    surface = surface_of(asked["mesh"])
    mass = vtk.vtkMultiObjectMassProperties()
    mass.SetInputData(surface)
    mass.Update()
    distance = vtk.vtkImplicitPolyDataDistance()
    distance.SetInput(surface)
    return {
        "area": mass.GetTotalArea(),
        "volume": mass.GetTotalVolume(),
        "cuts": [length_of_cut(surface, plane["normal"], plane["offset"]) for plane in asked["planes"]],
        "distances": [abs(distance.EvaluateFunction(point)) for point in asked["points"]],
    }


def hull_length(flat):
    hull = vtk.vtkPoints()
    hull.SetDataTypeToDouble()
    vtk.vtkConvexHull2D.CalculateConvexHull(points_of(flat), hull, 0.0)
    n = hull.GetNumberOfPoints()
    return sum(vtk.vtkMath.Distance2BetweenPoints(hull.GetPoint(i), hull.GetPoint((i + 1) % n)) ** 0.5 for i in range(n))


asked = json.load(sys.stdin)
json.dump({"version": vtk.vtkVersion().GetVTKVersion(), "meshes": [figures(one) for one in asked["meshes"]], "hulls": [hull_length(flat) for flat in asked["hulls"]]}, sys.stdout)
