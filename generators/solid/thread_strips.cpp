#include <Geom2d_Line.hxx>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <set>

#include "solid/thread_frame.hpp"

namespace fitup::solid {
namespace {

constexpr double full_turn = 2.0 * std::numbers::pi;
/// Strips are cut every turn. The kernel integrates a face with a number of points that does not grow with
/// its length: over two turns a volume was 6e-6 off, over four 6e-3. Meshing also takes longer on long faces.
/// No cut comes nearer to a strip's end than this.
constexpr double room_for_cut_rad = 0.5 * std::numbers::pi;

/// A helix with its vertices: its lower end, whole turns where a neighbour is cut, its upper end.
struct Helix {
    std::vector<int> cuts;
    std::vector<TopoDS_Vertex> cut_vertices;
    std::vector<TopoDS_Edge> edges;  ///< one more than cuts
};

class Strips {
  public:
    Strips(ThreadFrame& frame, const EndEdges& low, const EndEdges& high)
        : frame_(frame), layout_(frame.layout()), low_(low), high_(high) {
        for (std::size_t piece = 0; piece < 4; ++piece) find_cuts(piece);
        for (std::size_t k = 0; k < 4; ++k) make_helix(k);
    }

    void make(std::size_t piece) {
        Cut from;
        for (const int turn : cuts_[piece]) {
            const auto curve = section_curve(layout_.section(piece), layout_.rise_mm(), turn * full_turn);
            const TopoDS_Vertex& to = piece == 3 ? cut_vertex(0, turn + 1) : cut_vertex(piece + 1, turn);
            const Cut cut{turn, frame_.edge(curve, 0.0, 1.0, cut_vertex(piece, turn), to)};
            make_face(piece, from, cut);
            from = cut;
        }
        make_face(piece, from, {});
    }

  private:
    struct Cut {
        std::optional<int> turn;  ///< none: the strip's end
        TopoDS_Edge edge;
    };

    void find_cuts(std::size_t piece) {
        const double first = layout_.crease_turns(0, piece).most + room_for_cut_rad;
        const double last = layout_.crease_turns(1, piece).least - room_for_cut_rad;
        for (int cut = static_cast<int>(std::ceil(first / full_turn)); cut * full_turn <= last; ++cut) {
            cuts_[piece].push_back(cut);
        }
    }

    void make_helix(std::size_t k) {
        // The strip above and the one below; helix 0 is the upper edge of strip 3 a turn earlier.
        std::set<int> cuts(cuts_[k].begin(), cuts_[k].end());
        for (const int cut : cuts_[(k + 3) % 4]) cuts.insert(k == 0 ? cut + 1 : cut);
        Helix& helix = helices_[k];
        helix.cuts.assign(cuts.begin(), cuts.end());
        const SectionPole pole = layout_.section(k).front();
        TopoDS_Vertex from = low_.corners[k];
        double first = layout_.crossing(0, k, 0.0).turn_rad;
        const auto add = [&](double last, const TopoDS_Vertex& to) {
            const auto curve = frame_.splines().helix(pole, layout_.rise_mm(), first, last);
            helix.edges.push_back(frame_.edge(curve, first, last, from, to));
            from = to;
            first = last;
        };
        for (const int cut : helix.cuts) {
            const double turn = cut * full_turn;
            helix.cut_vertices.push_back(
                frame_.vertex({turn, pole.along_mm + layout_.rise_mm() * turn, pole.radius_mm}));
            add(turn, helix.cut_vertices.back());
        }
        add(layout_.crossing(1, k, 0.0).turn_rad, high_.corners[k]);
    }
    static std::size_t place(const Helix& helix, int cut) {
        const auto found = std::lower_bound(helix.cuts.begin(), helix.cuts.end(), cut);
        return static_cast<std::size_t>(found - helix.cuts.begin());
    }
    const TopoDS_Vertex& cut_vertex(std::size_t helix, int cut) const {
        return helices_[helix].cut_vertices[place(helices_[helix], cut)];
    }

    void make_face(std::size_t piece, const Cut& from, const Cut& to) {
        Walk walk = along_helix(piece, from.turn, to.turn, false);
        append(walk, across(high_, piece, to));
        append(walk, backwards(along_helix(piece, from.turn, to.turn, true)));
        append(walk, backwards(across(low_, piece, from)));
        // Creases may lean out a little further than their samples tell: a step is more than enough.
        const double step = frame_.splines().step_rad();
        const double first = from.turn
                                 ? *from.turn * full_turn
                                 : (std::floor(layout_.crease_turns(0, piece).least / step) - 1.0) * step;
        const double last = to.turn ? *to.turn * full_turn
                                    : (std::ceil(layout_.crease_turns(1, piece).most / step) + 1.0) * step;
        frame_.add_face(frame_.splines().sweep(layout_.section(piece), layout_.rise_mm(), first, last), walk);
    }
    /// From v = 0 to 1.
    static Walk across(const EndEdges& end, std::size_t piece, const Cut& cut) {
        if (!cut.turn) return end.creases[piece];
        return {{cut.edge, true, new Geom2d_Line(gp_Pnt2d(*cut.turn * full_turn, 0.0), gp_Dir2d(0.0, 1.0))}};
    }
    Walk along_helix(std::size_t piece, std::optional<int> from, std::optional<int> to, bool upper) const {
        const Helix& helix = helices_[upper ? (piece + 1) % 4 : piece];
        const int shift = upper && piece == 3 ? 1 : 0;
        const std::size_t first = from ? place(helix, *from + shift) + 1 : 0;
        const std::size_t last = to ? place(helix, *to + shift) : helix.cuts.size();
        Walk walk;
        for (std::size_t k = first; k <= last; ++k)
            walk.push_back({helix.edges[k], true, level(upper ? 1.0 : 0.0, -shift * full_turn)});
        return walk;
    }

    ThreadFrame& frame_;
    const ThreadLayout& layout_;
    const EndEdges& low_;
    const EndEdges& high_;
    std::array<std::vector<int>, 4> cuts_;
    std::array<Helix, 4> helices_;
};

}  // namespace

void make_strips(ThreadFrame& frame, const EndEdges& low, const EndEdges& high) {
    Strips strips(frame, low, high);
    for (std::size_t piece = 0; piece < 4; ++piece) strips.make(piece);
}

}  // namespace fitup::solid
