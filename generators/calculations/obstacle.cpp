#include "calculations/obstacle.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

namespace fitup::calculations {

namespace {

/// Balls are split along their pieces' longest spread, half of the pieces each way.
class TreeBuilder {
  public:
    explicit TreeBuilder(ObstacleShape& shape) : shape_(shape), order_(shape.pieces.size()) {
        std::iota(order_.begin(), order_.end(), 0);
        if (!order_.empty()) build(0, order_.size());
    }

  private:
    int build(std::size_t begin, std::size_t end) {
        const int index = int(shape_.nodes.size());
        shape_.nodes.push_back(ball(begin, end));
        if (end - begin == 1) {
            shape_.nodes.back().piece = order_[begin];
            return index;
        }
        const std::size_t axis = longest_axis(begin, end), middle = begin + (end - begin) / 2;
        std::nth_element(order_.begin() + long(begin), order_.begin() + long(middle),
                         order_.begin() + long(end),
                         [&](int a, int b) { return piece(a).middle[axis] < piece(b).middle[axis]; });
        const int first = build(begin, middle), second = build(middle, end);
        shape_.nodes[std::size_t(index)].first = first;
        shape_.nodes[std::size_t(index)].second = second;
        return index;
    }

    const Convex& piece(int index) const { return shape_.pieces[std::size_t(index)]; }

    std::pair<Vector, Vector> spread(std::size_t begin, std::size_t end) const {
        Vector low{1e300, 1e300, 1e300}, high{-1e300, -1e300, -1e300};
        for (std::size_t i = begin; i < end; ++i) {
            for (std::size_t axis = 0; axis < 3; ++axis) {
                low[axis] = std::min(low[axis], piece(order_[i]).middle[axis]);
                high[axis] = std::max(high[axis], piece(order_[i]).middle[axis]);
            }
        }
        return {low, high};
    }

    std::size_t longest_axis(std::size_t begin, std::size_t end) const {
        const auto [low, high] = spread(begin, end);
        const Vector size = high - low;
        return std::size_t(std::max_element(size.begin(), size.end()) - size.begin());
    }

    BallNode ball(std::size_t begin, std::size_t end) const {
        const auto [low, high] = spread(begin, end);
        BallNode node;
        node.middle = (low + high) * 0.5;
        for (std::size_t i = begin; i < end; ++i)
            node.reach_mm = std::max(
                node.reach_mm, length(piece(order_[i]).middle - node.middle) + piece(order_[i]).reach_mm);
        return node;
    }

    ObstacleShape& shape_;
    std::vector<int> order_;
};

ObstacleShape with_tree(ObstacleShape shape) {
    TreeBuilder{shape};
    return shape;
}

}  // namespace

ObstacleShape shape_of(const std::string& name, const plan::RoundBar& bar) {
    const Vector axis = unit(bar.to - bar.from);
    // Any direction square to the axis: from the coordinate axis it leans on least.
    Vector square{};
    square[std::abs(axis[0]) < 0.6 ? 0 : 1] = 1.0;
    square = unit(cross(axis, square));
    Convex body;
    for (const Vector& end : {bar.from, bar.to})
        body.rounds.push_back({end, axis, bar.diameter_mm / 2.0, square, -1.0});
    enclose(body);
    ObstacleShape shape;
    shape.name = name;
    shape.pieces.push_back(std::move(body));
    return with_tree(std::move(shape));
}

ObstacleShape shape_of(const std::string& name, const plan::Block& block) {
    Convex body;
    for (int corner = 0; corner < 8; ++corner)
        body.points.push_back({(corner & 1) ? block.most[0] : block.least[0],
                               (corner & 2) ? block.most[1] : block.least[1],
                               (corner & 4) ? block.most[2] : block.least[2]});
    enclose(body);
    ObstacleShape shape;
    shape.name = name;
    shape.pieces.push_back(std::move(body));
    return with_tree(std::move(shape));
}

ObstacleShape shape_of(const std::string& name, const mesh::Mesh& mesh, double within_mm) {
    ObstacleShape shape;
    shape.name = name;
    shape.within_mm = within_mm;
    shape.is_shell = true;
    for (const auto& triangle : mesh.triangles) {
        Convex body;
        for (const std::uint32_t vertex : triangle) body.points.push_back(mesh.vertices[vertex]);
        enclose(body);
        shape.pieces.push_back(std::move(body));
    }
    return with_tree(std::move(shape));
}

bool is_inside(const ObstacleShape& shell, const Vector& point) {
    double angle = 0.0;
    for (const Convex& triangle : shell.pieces) {
        const Vector a = triangle.points[0] - point, b = triangle.points[1] - point,
                     c = triangle.points[2] - point;
        const double la = length(a), lb = length(b), lc = length(c);
        angle += 2.0 * std::atan2(dot(a, cross(b, c)),
                                  la * lb * lc + dot(a, b) * lc + dot(b, c) * la + dot(c, a) * lb);
    }
    return std::abs(angle) > 2.0 * std::numbers::pi;
}

}  // namespace fitup::calculations
