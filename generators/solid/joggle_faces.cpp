#include "solid/joggle_faces.hpp"

#include <BRepAdaptor_Curve.hxx>
#include <BRepAdaptor_Surface.hxx>
#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <Geom_Circle.hxx>
#include <Geom_CylindricalSurface.hxx>
#include <Geom_Plane.hxx>
#include <Precision.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <array>
#include <cmath>

#include "solid/kernel_call.hpp"
#include "solid/patches.hpp"

// Key: a station is one of four lines across the strip where a bend starts or ends (0 and 3 belong to the
// legs), a piece is what lies between two of them (bend, straight, bend), a level the strip's underside or
// its upper face, an edge side the strip's edge at low or high y.

namespace fitup::solid {
namespace {

enum Level : std::size_t { lower, upper };
enum EdgeSide : std::size_t { low_y, high_y };

template <class Value>
using PerCorner = std::array<std::array<Value, 2>, 2>;  ///< [level][edge side]

/// The kernel's own confusion distance is 1e-7; the ends are the plan's own doubles.
constexpr double same_place_mm = 1e-6;

/// The rectangle in which a leg ends.
struct End {
    TopoDS_Face face;
    PerCorner<TopoDS_Vertex> corners;
    std::array<TopoDS_Edge, 2> across;   ///< [level]
    std::array<TopoDS_Edge, 2> upright;  ///< [edge side]
};

TopoDS_Edge edge_between(const TopoDS_Face& face, const TopoDS_Vertex& a, const TopoDS_Vertex& b) {
    for (TopExp_Explorer edges(face, TopAbs_EDGE); edges.More(); edges.Next()) {
        const TopoDS_Edge edge = TopoDS::Edge(edges.Current().Oriented(TopAbs_FORWARD));
        const TopoDS_Vertex first = TopExp::FirstVertex(edge);
        const TopoDS_Vertex last = TopExp::LastVertex(edge);
        if ((first.IsSame(a) && last.IsSame(b)) || (first.IsSame(b) && last.IsSame(a))) return edge;
    }
    return {};
}

/// Whether all of a face lies in the plane across the strip at x.
bool lies_across(const TopoDS_Face& face, double x_mm) {
    if (BRepAdaptor_Surface(face, false).GetType() != GeomAbs_Plane) return false;
    for (TopExp_Explorer corners(face, TopAbs_VERTEX); corners.More(); corners.Next()) {
        if (std::abs(BRep_Tool::Pnt(TopoDS::Vertex(corners.Current())).X() - x_mm) > same_place_mm)
            return false;
    }
    return true;
}

std::optional<End> end_of(const TopoDS_Face& face, double z_low_mm) {
    End end;
    end.face = face;
    for (TopExp_Explorer corners(face, TopAbs_VERTEX); corners.More(); corners.Next()) {
        const TopoDS_Vertex vertex = TopoDS::Vertex(corners.Current().Oriented(TopAbs_FORWARD));
        const gp_Pnt point = BRep_Tool::Pnt(vertex);
        const Level level = std::abs(point.Z() - z_low_mm) < same_place_mm ? lower : upper;
        end.corners[level][point.Y() < 0.0 ? low_y : high_y] = vertex;
    }
    for (const std::size_t i : {0, 1}) {
        if (end.corners[i][low_y].IsNull() || end.corners[i][high_y].IsNull()) return std::nullopt;
    }
    for (const std::size_t i : {0, 1}) {
        end.across[i] = edge_between(face, end.corners[i][low_y], end.corners[i][high_y]);
        end.upright[i] = edge_between(face, end.corners[lower][i], end.corners[upper][i]);
        if (end.across[i].IsNull() || end.upright[i].IsNull()) return std::nullopt;
    }
    return end;
}

End find_end(const SkinSolids& leg, plan::Point at, const std::string& making) {
    for (TopExp_Explorer faces(leg.solids.front(), TopAbs_FACE); faces.More(); faces.Next()) {
        const TopoDS_Face face = TopoDS::Face(faces.Current());
        if (!lies_across(face, at.x_mm)) continue;
        if (auto end = end_of(face, at.y_mm)) return *end;
    }
    throw KernelError(making + ": a leg does not end straight where its bend starts");
}

gp_Pnt point_of(plan::Point point, double y_mm) { return {point.x_mm, y_mm, point.y_mm}; }

/// A bend's arc about its axis, as a frame: the axis so turned that the strip runs anticlockwise.
struct Bend {
    gp_Ax3 frame;  ///< origin at y = 0, X to where the bend starts
    double radius_mm = 0.0;
    double angle = 0.0;
    double sense() const { return frame.Direction().Y(); }
};

Bend bend_of(plan::Point centre, plan::Point from, plan::Point to) {
    const gp_Vec start(point_of(centre, 0.0), point_of(from, 0.0));
    const gp_Vec end(point_of(centre, 0.0), point_of(to, 0.0));
    const gp_Dir axis(0.0, start.Crossed(end).Y() > 0.0 ? 1.0 : -1.0, 0.0);
    return {gp_Ax3(point_of(centre, 0.0), axis, gp_Dir(start)), start.Magnitude(), start.Angle(end)};
}

TopoDS_Edge arc_edge(const Bend& bend, double y_mm, const TopoDS_Vertex& first, const TopoDS_Vertex& last) {
    gp_Ax2 frame = bend.frame.Ax2();
    frame.SetLocation(gp_Pnt(frame.Location().X(), y_mm, frame.Location().Z()));
    const BRep_Builder builder;
    TopoDS_Edge edge;
    builder.MakeEdge(edge, new Geom_Circle(frame, bend.radius_mm), Precision::Confusion());
    builder.Add(edge, first.Oriented(TopAbs_FORWARD));
    builder.Add(edge, last.Oriented(TopAbs_REVERSED));
    builder.Range(edge, 0.0, bend.angle);
    return edge;
}

/// An edge along the bend's axis, at angle u.
void lay_across(const TopoDS_Edge& edge, const TopoDS_Face& face, const Bend& bend, double u) {
    const BRepAdaptor_Curve curve(edge);
    gp_Pnt start;
    gp_Vec step;
    curve.D1(0.0, start, step);
    lay_on(edge, face, {u, start.Y() * bend.sense(), 0.0, step.Y() > 0.0 ? bend.sense() : -bend.sense()});
}

class JoggleMaker {
  public:
    JoggleMaker(const End& first, const End& second, const plan::JoggleProfile& profile)
        : profile_(profile),
          is_straight_(plan::distance_mm(profile.lower[1], profile.lower[2]) > plan::same_point_mm) {
        y_mm_ = {BRep_Tool::Pnt(first.corners[lower][low_y]).Y(),
                 BRep_Tool::Pnt(first.corners[lower][high_y]).Y()};
        upright_ = {first.upright, second.upright};
        for (const Level level : {lower, upper}) add_level(level, first, second);
    }

    /// With their names.
    std::vector<std::pair<TopoDS_Face, std::string>> faces() const {
        std::vector<std::pair<TopoDS_Face, std::string>> made;
        for (const Level level : {lower, upper}) {
            made.emplace_back(bend_face(level, 0), "bend-1");
            if (is_straight_) made.emplace_back(straight_face(level), "joggle");
            made.emplace_back(bend_face(level, 2), "bend-2");
        }
        for (const EdgeSide side : {low_y, high_y}) made.emplace_back(side_face(side), "outline");
        return made;
    }

  private:
    const plan::Point& point(Level level, std::size_t station) const {
        return (level == lower ? profile_.lower : profile_.upper)[station];
    }
    Bend bend(Level level, std::size_t piece) const {
        return bend_of(profile_.centre[piece / 2], point(level, piece), point(level, piece + 1));
    }

    void add_level(Level level, const End& first, const End& second) {
        auto& corners = corners_[level];
        auto& across = across_[level];
        corners[0] = first.corners[level];
        corners[3] = second.corners[level];
        across[0] = first.across[level];
        across[3] = second.across[level];
        for (const std::size_t station : {1, 2}) {
            if (station == 2 && !is_straight_) {
                corners[2] = corners[1];
                across[2] = across[1];
                continue;
            }
            for (const EdgeSide side : {low_y, high_y})
                BRep_Builder().MakeVertex(corners[station][side],
                                          point_of(point(level, station), y_mm_[side]),
                                          Precision::Confusion());
            across[station] = straight_edge(corners[station][low_y], corners[station][high_y]);
        }
        for (const EdgeSide side : {low_y, high_y}) {
            for (const std::size_t piece : {0, 2})
                along_[level][piece][side] =
                    arc_edge(bend(level, piece), y_mm_[side], corners[piece][side], corners[piece + 1][side]);
            if (is_straight_) along_[level][1][side] = straight_edge(corners[1][side], corners[2][side]);
        }
    }

    /// The border of a piece, anticlockwise as seen from outside the metal: each edge from the vertex where
    /// it is entered.
    TopoDS_Wire border(Level level, std::size_t piece) const {
        const auto& along = along_[level][piece];
        const TopoDS_Wire seen_from_above = closed_wire(std::initializer_list<TopoDS_Shape>{
            along[low_y], walked(across_[level][piece + 1], corners_[level][piece + 1][low_y]),
            along[high_y].Reversed(), walked(across_[level][piece], corners_[level][piece][high_y])});
        return TopoDS::Wire(turned(seen_from_above, level == lower));
    }

    TopoDS_Face bend_face(Level level, std::size_t piece) const {
        const Bend bent = bend(level, piece);
        const BRep_Builder builder;
        TopoDS_Face face;
        builder.MakeFace(face, new Geom_CylindricalSurface(bent.frame, bent.radius_mm),
                         Precision::Confusion());
        for (const EdgeSide side : {low_y, high_y})
            lay_on(along_[level][piece][side], face, {0.0, y_mm_[side] * bent.sense(), 1.0, 0.0});
        lay_across(across_[level][piece], face, bent, 0.0);
        lay_across(across_[level][piece + 1], face, bent, bent.angle);
        // The surface's normal points away from the axis; at the legs the strip's upper face looks up.
        const std::size_t level_station = piece == 0 ? 0 : 3;
        const bool is_above_axis = point(level, level_station).y_mm > profile_.centre[piece / 2].y_mm;
        const bool is_inside_out = is_above_axis != (level == upper);
        builder.Add(face, turned(border(level, piece), is_inside_out));
        return TopoDS::Face(turned(face, is_inside_out));
    }

    TopoDS_Face straight_face(Level level) const {
        const gp_Vec along(point_of(point(level, 1), 0.0), point_of(point(level, 2), 0.0));
        const gp_Vec up = along.Crossed(gp_Vec(gp::DY()));
        const gp_Dir outward(level == upper ? up : up.Reversed());
        return face_on(new Geom_Plane(point_of(point(level, 1), 0.0), outward), border(level, 1));
    }

    /// The strip's edge between the legs, all three pieces in one plane.
    TopoDS_Face side_face(EdgeSide side) const {
        std::vector<TopoDS_Shape> edges;
        for (const std::size_t piece : pieces()) edges.push_back(along_[lower][piece][side]);
        edges.push_back(walked(upright_[1][side], corners_[lower][3][side]));
        const auto forwards = pieces();
        for (auto piece = forwards.rbegin(); piece != forwards.rend(); ++piece)
            edges.push_back(along_[upper][*piece][side].Reversed());
        edges.push_back(walked(upright_[0][side], corners_[upper][0][side]));
        const gp_Dir outward(0.0, side == low_y ? -1.0 : 1.0, 0.0);
        const TopoDS_Wire seen_from_low_y = closed_wire(edges);
        return face_on(new Geom_Plane(gp_Pnt(0.0, y_mm_[side], 0.0), outward),
                       TopoDS::Wire(turned(seen_from_low_y, side == high_y)));
    }

    std::vector<std::size_t> pieces() const {
        return is_straight_ ? std::vector<std::size_t>{0, 1, 2} : std::vector<std::size_t>{0, 2};
    }

    static TopoDS_Shape walked(const TopoDS_Edge& edge, const TopoDS_Vertex& from) {
        return turned(edge, !TopExp::FirstVertex(edge).IsSame(from));
    }

    const plan::JoggleProfile& profile_;
    bool is_straight_;
    std::array<double, 2> y_mm_{};
    std::array<std::array<std::array<TopoDS_Vertex, 2>, 4>, 2> corners_;  ///< [level][station][edge side]
    std::array<std::array<TopoDS_Edge, 4>, 2> across_;                    ///< [level][station]
    std::array<std::array<std::array<TopoDS_Edge, 2>, 3>, 2> along_;      ///< [level][piece][edge side]
    std::array<std::array<TopoDS_Edge, 2>, 2> upright_;                   ///< [leg][edge side]
};

void take_faces(const SkinSolids& leg, const TopoDS_Face& end, std::vector<TopoDS_Face>& faces,
                FaceNames& names) {
    for (TopExp_Explorer all(leg.solids.front(), TopAbs_FACE); all.More(); all.Next()) {
        if (all.Current().IsSame(end)) continue;
        faces.push_back(TopoDS::Face(all.Current()));
        names.Bind(all.Current(), leg.names.Find(all.Current()));
    }
}

}  // namespace

SkinSolids joined_by_joggle(const SkinSolids& first, const SkinSolids& second, const plan::Joggle& joggle,
                            const plan::JoggleProfile& profile, const std::string& making) {
    return kernel_call(making, [&] {
        const End first_end = find_end(first, {joggle.start_mm, 0.0}, making);
        const End second_end = find_end(second, {joggle.start_mm + joggle.run_mm, joggle.rise_mm}, making);
        SkinSolids joined;
        std::vector<TopoDS_Face> faces;
        take_faces(first, first_end.face, faces, joined.names);
        take_faces(second, second_end.face, faces, joined.names);
        for (const auto& [face, name] : JoggleMaker(first_end, second_end, profile).faces()) {
            faces.push_back(face);
            joined.names.Bind(face, name);
        }
        joined.solids.push_back(solid_of(faces));
        return joined;
    });
}

}  // namespace fitup::solid
