/* Reads files of ISO 10303-21 with a kernel of solids that other people wrote, and prints for each what it makes of
 * it: valid or not, solids, faces, volume in mm3, and the largest tolerance that it had to give an edge. A file that
 * is right needs none; one that had to be healed is told by that alone. Built by kernel.sh where the kernel is. */

#include <BRepCheck_Analyzer.hxx>
#include <BRepGProp.hxx>
#include <GProp_GProps.hxx>
#include <Message.hxx>
#include <Message_Messenger.hxx>
#include <Message_Printer.hxx>
#include <STEPControl_Reader.hxx>
#include <ShapeAnalysis_ShapeTolerance.hxx>
#include <TopExp.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS_Shape.hxx>

#include <cstdio>

static int count_of(const TopoDS_Shape &shape, TopAbs_ShapeEnum what)
{
    TopTools_IndexedMapOfShape found;
    TopExp::MapShapes(shape, what, found);
    return found.Extent();
}

/* Right: valid, and nothing but the kernel's own least tolerance anywhere. */
static bool judge(const char *file)
{
    STEPControl_Reader reader;
    if (reader.ReadFile(file) != IFSelect_RetDone || !reader.TransferRoots()) {
        std::printf("%s: not read\n", file);
        return false;
    }
    TopoDS_Shape shape = reader.OneShape();
    GProp_GProps mass;
    ShapeAnalysis_ShapeTolerance tolerances;
    BRepGProp::VolumeProperties(shape, mass, 1e-10);
    double tolerance = tolerances.Tolerance(shape, 1);
    bool valid = BRepCheck_Analyzer(shape).IsValid();
    int solids = count_of(shape, TopAbs_SOLID);
    std::printf("%s: %s, %d solids, %d faces, %.6f mm3, tolerance %.3g\n", file, valid ? "valid" : "not valid", solids,
                count_of(shape, TopAbs_FACE), mass.Mass(), tolerance);
    return valid && solids > 0 && mass.Mass() > 0 && tolerance < 1.001e-7;
}

int main(int argc, char **argv)
{
    bool right = argc > 1;
    Message::DefaultMessenger()->RemovePrinters(Standard_Type::Instance<Message_Printer>());
    for (int i = 1; i < argc; i++)
        right = judge(argv[i]) && right;
    return right ? 0 : 1;
}
