#include <algorithm>
#include <cmath>
#include <numeric>

#include "exchange/expected.hpp"
#include "plan/vector.hpp"

namespace fitup::exchange {

namespace {

/// Pieces of an arc shorter than this lie between crossings that are one but for rounding.
constexpr double shortest_piece_mm = 10.0 * beside_mm;
/// An odd share, so that what touches an arc at its middle or a quarter is not met by chance.
constexpr double probe_share = 0.3819660112501051;

/// What one arc of one contour contributes to a wall.
struct Piece {
    /// Whose name a shared wall takes: the highest. What is of nobody makes no wall, but may lengthen one.
    enum class Rank { nobody, ring, pocket, hole };
    ExpectedWall wall;
    Rank rank = Rank::nobody;
};

Piece::Rank rank_of(const Item& item, const Edge& edge, bool is_hole, bool turns_inwards) {
    if (item.kind == Item::Kind::slab) return Piece::Rank::nobody;
    const bool is_ring = item.kind == Item::Kind::ring;
    if (!is_hole)
        return is_ring && !edge.is_island && edge.contour.circle() ? Piece::Rank::ring : Piece::Rank::nobody;
    if (edge.is_island != is_ring || !turns_inwards) return Piece::Rank::nobody;
    if (is_ring) return Piece::Rank::ring;
    return item.cut->role == plan::CutRole::pocket ? Piece::Rank::pocket : Piece::Rank::hole;
}

/// Walls on both faces of an arc: metal outside, metal inside.
struct Sides {
    Spans outside;
    Spans inside;
};

class WallFinder {
  public:
    WallFinder(const plan::Plan& plan, const Metal& metal) : plan_(plan), metal_(metal) {}

    std::vector<Piece> find() {
        for (std::size_t k = 0; k < metal_.edges().size(); ++k) {
            for (const plan::Stroke& stroke : metal_.edges()[k].strokes) {
                if (!stroke.is_line()) add_arc(k, stroke);
            }
        }
        return std::move(pieces_);
    }

  private:
    /// Where other edges cross an arc, as shares of it, with both its ends.
    std::vector<double> divisions(std::size_t edge, const plan::Stroke& arc) const {
        std::vector<double> shares{0.0, 1.0};
        const plan::Box2 arc_box = plan::box(arc);
        for (const std::size_t other : metal_.near(edge)) {
            if (other == edge) continue;
            for (const plan::Stroke& stroke : metal_.edges()[other].strokes) {
                if (plan::distance_mm(arc_box, plan::box(stroke)) > beside_mm) continue;
                for (const plan::Point point : plan::crossings(arc, stroke))
                    shares.push_back(plan::share_of(arc, point));
            }
        }
        std::sort(shares.begin(), shares.end());
        return shares;
    }

    void add_arc(std::size_t edge, const plan::Stroke& arc) {
        const std::vector<double> shares = divisions(edge, arc);
        const double length_mm = plan::length_mm(arc);
        std::vector<Sides> parts;
        is_level_ = true;
        for (std::size_t i = 0; i + 1 < shares.size(); ++i) {
            if ((shares[i + 1] - shares[i]) * length_mm < shortest_piece_mm) continue;
            parts.push_back(sides_at(edge, arc, shares[i] + probe_share * (shares[i + 1] - shares[i])));
        }
        add_walls(edge, arc, parts, true);
        add_walls(edge, arc, parts, false);
    }

    Sides sides_at(std::size_t edge, const plan::Stroke& arc, double share) {
        const plan::Point at = plan::point_at(arc, share);
        const plan::Point away = plan::unit(at - arc.centre) * beside_mm;
        const Column beyond = metal_.column(edge, {at, at + away, arc.centre});
        const Column within_arc = metal_.column(edge, {at, at - away, arc.centre});
        is_level_ = is_level_ && beyond.is_level && within_arc.is_level;
        const Span& range = metal_.items()[metal_.edges()[edge].item].range;
        return {within(without(beyond.metal, within_arc.metal), range),
                within(without(within_arc.metal, beyond.metal), range)};
    }

    void add_walls(std::size_t edge, const plan::Stroke& arc, const std::vector<Sides>& parts, bool is_hole) {
        Spans all;
        bool is_alike = true;
        for (const Sides& part : parts) {
            const Spans& spans = is_hole ? part.outside : part.inside;
            is_alike = is_alike && is_same(spans, is_hole ? parts.front().outside : parts.front().inside);
            for (const Span& span : spans) add_span(all, span);
        }
        for (const Span& span : all) pieces_.push_back(piece(edge, arc, span, is_hole, is_alike));
    }

    static bool is_same(const Spans& a, const Spans& b) {
        return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](const Span& one, const Span& other) {
            return std::abs(one.low_mm - other.low_mm) < plan::same_point_mm &&
                   std::abs(one.high_mm - other.high_mm) < plan::same_point_mm;
        });
    }

    Piece piece(std::size_t number, const plan::Stroke& arc, const Span& span, bool is_hole,
                bool is_alike) const {
        const Edge& edge = metal_.edges()[number];
        const Item& item = metal_.items()[edge.item];
        const double level_mm = plan::level_mm(plan_, arc.centre);
        Piece piece;
        piece.wall = {item.id, arc.centre, arc.radius_mm, span.low_mm + level_mm, span.high_mm + level_mm};
        piece.wall.is_hole = is_hole;
        piece.wall.is_full = is_alike && edge.contour.circle();
        piece.wall.is_level = is_level_ && !is_in_bend(arc);
        piece.wall.is_plain = piece.wall.is_full && piece.wall.is_level;
        piece.rank = rank_of(item, edge, is_hole, arc.sweep_rad > 0.0);
        return piece;
    }

    bool is_in_bend(const plan::Stroke& arc) const {
        const auto& joggle = plan_.body.joggle;
        const plan::Box2 box = plan::box(arc);
        return joggle && box.most.x_mm > joggle->start_mm &&
               box.least.x_mm < joggle->start_mm + joggle->run_mm;
    }

    const plan::Plan& plan_;
    const Metal& metal_;
    std::vector<Piece> pieces_;
    bool is_level_ = true;
};

bool is_one_wall(const ExpectedWall& a, const ExpectedWall& b) {
    return a.is_hole == b.is_hole && plan::distance_mm(a.centre, b.centre) < beside_mm &&
           std::abs(a.radius_mm - b.radius_mm) < beside_mm && a.low_mm < b.high_mm + beside_mm &&
           b.low_mm < a.high_mm + beside_mm;
}

bool holds(const ExpectedWall& wall, const ExpectedWall& other) {
    return wall.low_mm < other.low_mm + beside_mm && wall.high_mm > other.high_mm - beside_mm;
}

/// Adds `more` to a wall on the same circle.
void join(Piece& piece, const Piece& more) {
    ExpectedWall& wall = piece.wall;
    const bool is_whole = wall.is_full && holds(wall, more.wall);
    const bool is_whole_more = more.wall.is_full && holds(more.wall, wall);
    wall.is_plain = (is_whole && wall.is_plain) || (is_whole_more && more.wall.is_plain);
    wall.is_full = is_whole || is_whole_more || (wall.is_full && more.wall.is_full);
    wall.is_level = wall.is_level && more.wall.is_level;
    wall.low_mm = std::min(wall.low_mm, more.wall.low_mm);
    wall.high_mm = std::max(wall.high_mm, more.wall.high_mm);
    if (more.rank > piece.rank)
        wall.id = more.wall.id;
    else if (more.rank == Piece::Rank::hole && more.wall.id != wall.id)
        wall.id += ", " + more.wall.id;
    piece.rank = std::max(piece.rank, more.rank);
}

/// Makes one wall of those that touch on one circle.
class Joining {
  public:
    explicit Joining(std::vector<Piece>& pieces) : pieces_(pieces), gone_(pieces.size(), false) {
        order_.resize(pieces.size());
        std::iota(order_.begin(), order_.end(), std::size_t{0});
        std::stable_sort(order_.begin(), order_.end(), [&pieces](std::size_t a, std::size_t b) {
            return pieces[a].wall.centre.x_mm < pieces[b].wall.centre.x_mm;
        });
    }

    void run() {
        // A wall that has grown may reach one that it did not reach before.
        while (pass()) {
        }
        std::vector<Piece> left;
        for (std::size_t k = 0; k < pieces_.size(); ++k) {
            if (!gone_[k]) left.push_back(std::move(pieces_[k]));
        }
        pieces_ = std::move(left);
    }

  private:
    bool pass() {
        bool changed = false;
        for (std::size_t i = 0; i < order_.size(); ++i) {
            for (std::size_t j = i + 1; j < order_.size(); ++j) {
                const auto [first, second] = std::minmax(order_[i], order_[j]);
                const double right_mm = pieces_[order_[j]].wall.centre.x_mm;
                if (right_mm - pieces_[order_[i]].wall.centre.x_mm > beside_mm) break;
                if (gone_[first] || gone_[second]) continue;
                if (!is_one_wall(pieces_[first].wall, pieces_[second].wall)) continue;
                join(pieces_[first], pieces_[second]);
                gone_[second] = changed = true;
            }
        }
        return changed;
    }

    std::vector<Piece>& pieces_;
    std::vector<std::size_t> order_;
    std::vector<bool> gone_;
};

}  // namespace

std::vector<ExpectedWall> expected_walls(const plan::Plan& plan, const Metal& metal) {
    std::vector<Piece> pieces = WallFinder(plan, metal).find();
    Joining(pieces).run();
    std::erase_if(pieces, [](const Piece& piece) { return piece.rank == Piece::Rank::nobody; });
    std::stable_partition(pieces.begin(), pieces.end(),
                          [](const Piece& piece) { return piece.rank != Piece::Rank::ring; });
    std::vector<ExpectedWall> walls;
    for (Piece& piece : pieces) walls.push_back(std::move(piece.wall));
    return walls;
}

}  // namespace fitup::exchange
