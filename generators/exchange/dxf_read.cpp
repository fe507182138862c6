#include <algorithm>
#include <cmath>
#include <optional>
#include <span>
#include <vector>

#include "base/error.hpp"
#include "base/text.hpp"
#include "base/units.hpp"
#include "exchange/dxf.hpp"
#include "plan/stroke.hpp"
#include "plan/vector.hpp"

namespace fitup::exchange {

namespace {

struct Pair {
    int code = 0;
    std::string_view value;
};

std::string_view trimmed(std::string_view line) {
    const std::size_t first = line.find_first_not_of(" \t"), last = line.find_last_not_of(" \t\r");
    return first == std::string_view::npos ? "" : line.substr(first, last - first + 1);
}

std::vector<std::string_view> lines_of(std::string_view text) {
    std::vector<std::string_view> lines;
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t end = std::min(text.find('\n', at), text.size());
        lines.push_back(trimmed(text.substr(at, end - at)));
        at = end + 1;
    }
    return lines;
}

/// A DXF file is lines in pairs: a code, then its value.
std::vector<Pair> pairs_of(std::string_view text, const std::string& name) {
    constexpr double most_code = 1100;
    const std::vector<std::string_view> lines = lines_of(text);
    std::vector<Pair> pairs;
    for (std::size_t i = 0; i + 1 < lines.size(); i += 2) {
        const double code = parse_number(lines[i]).value_or(0.5);
        if (code != std::round(code) || std::abs(code) > most_code)
            throw FileError(name, "this is no DXF file: a group code is no number");
        pairs.push_back({int(code), lines[i + 1]});
    }
    if (pairs.empty() || pairs.back().code != 0 || pairs.back().value != "EOF")
        throw FileError(name, "the DXF file is cut short: EOF is missing");
    return pairs;
}

/// One entity's pairs, from its kind to before the next.
class Entity {
  public:
    Entity(std::span<const Pair> pairs, double mm_per_unit) : pairs_(pairs), mm_per_unit_(mm_per_unit) {}

    std::string_view kind() const { return pairs_.front().value; }
    std::string layer() const {
        const auto found =
            std::find_if(pairs_.begin(), pairs_.end(), [](const Pair& p) { return p.code == 8; });
        return found == pairs_.end() ? "0" : std::string(found->value);
    }
    double length_mm(int code) const {
        for (const Pair& pair : pairs_) {
            if (pair.code == code) return parse_number(pair.value).value_or(0.0) * mm_per_unit_;
        }
        return 0.0;
    }
    plan::Point point(int code) const { return {length_mm(code), length_mm(code + 10)}; }

    /// Nothing where it has fewer than two corners.
    std::optional<plan::Contour> polyline() const {
        std::vector<plan::Point> corners;
        std::vector<double> bulges;
        for (const Pair& pair : pairs_) {
            const double value = parse_number(pair.value).value_or(0.0);
            if (pair.code == 10) {
                corners.push_back({value * mm_per_unit_, 0.0});
                bulges.push_back(0.0);
            } else if (pair.code == 20 && !corners.empty()) {
                corners.back().y_mm = value * mm_per_unit_;
            } else if (pair.code == 42 && !bulges.empty()) {
                bulges.back() = value;
            }
        }
        if (corners.size() < 2) return {};
        std::vector<plan::Edge> edges;
        for (std::size_t i = 0; i < corners.size(); ++i)
            edges.push_back(edge(corners[i], corners[(i + 1) % corners.size()], bulges[i]));
        return plan::Contour(std::move(edges));
    }

  private:
    static plan::Edge edge(plan::Point from, plan::Point to, double bulge) {
        if (bulge == 0.0) return {from, {}};
        // The centre lies on the chord's middle square, (1 - b^2) / (4 b) of the chord to the left.
        const plan::Point chord = to - from;
        const plan::Point centre =
            from + chord * 0.5 + plan::left_of(chord) * ((1.0 - bulge * bulge) / (4.0 * bulge));
        return {from, plan::Arc{centre, bulge > 0.0 ? plan::Turn::anticlockwise : plan::Turn::clockwise}};
    }

    std::span<const Pair> pairs_;
    double mm_per_unit_;
};

double mm_per_unit(std::span<const Pair> pairs, const std::string& name) {
    for (std::size_t i = 0; i + 1 < pairs.size(); ++i) {
        if (pairs[i].code != 9 || pairs[i].value != "$INSUNITS") continue;
        if (pairs[i + 1].value == "1") return mm_per_inch;
        if (pairs[i + 1].value == "4") return 1.0;
    }
    throw FileError(name, "the DXF file says neither millimetres nor inches");
}

/// Of the section ENTITIES, from after its name to its end.
std::span<const Pair> entity_pairs(std::span<const Pair> pairs) {
    for (std::size_t i = 1; i < pairs.size(); ++i) {
        if (pairs[i - 1].value != "SECTION" || pairs[i].code != 2 || pairs[i].value != "ENTITIES") continue;
        std::size_t end = i + 1;
        while (end < pairs.size() && !(pairs[end].code == 0 && pairs[end].value == "ENDSEC")) ++end;
        return pairs.subspan(i + 1, end - i - 1);
    }
    return {};
}

void add(const Entity& entity, plan::Profile& profile) {
    if (entity.kind() == "CIRCLE")
        profile.curves.push_back(
            {entity.layer(), plan::Contour(plan::Circle{entity.point(10), entity.length_mm(40)})});
    if (entity.kind() == "LINE")
        profile.lines.push_back({entity.layer(), {entity.point(10), entity.point(11)}});
    if (entity.kind() != "LWPOLYLINE") return;
    if (auto contour = entity.polyline()) profile.curves.push_back({entity.layer(), std::move(*contour)});
}

std::optional<double> difference_mm(const plan::Contour& first, const plan::Contour& second) {
    const auto a = plan::strokes_of(first), b = plan::strokes_of(second);
    if (a.size() != b.size() || (first.circle() == nullptr) != (second.circle() == nullptr)) return {};
    double most = 0.0;
    for (std::size_t i = 0; i < a.size(); ++i) {
        for (const double share : {0.0, 0.25, 0.5, 0.75})
            most =
                std::max(most, plan::distance_mm(plan::point_at(a[i], share), plan::point_at(b[i], share)));
    }
    return most;
}

}  // namespace

plan::Profile read_dxf(std::string_view text, const std::string& name) {
    const std::vector<Pair> pairs = pairs_of(text, name);
    const double unit_mm = mm_per_unit(pairs, name);
    const std::span<const Pair> entities = entity_pairs(pairs);
    plan::Profile profile;
    for (std::size_t i = 0; i < entities.size();) {
        std::size_t end = i + 1;
        while (end < entities.size() && entities[end].code != 0) ++end;
        add(Entity(entities.subspan(i, end - i), unit_mm), profile);
        i = end;
    }
    return profile;
}

std::optional<double> difference_mm(const plan::Profile& first, const plan::Profile& second) {
    if (first.curves.size() != second.curves.size() || first.lines.size() != second.lines.size()) return {};
    double most = 0.0;
    for (std::size_t i = 0; i < first.curves.size(); ++i) {
        const auto apart = difference_mm(first.curves[i].curve, second.curves[i].curve);
        if (!apart || first.curves[i].layer != second.curves[i].layer) return {};
        most = std::max(most, *apart);
    }
    for (std::size_t i = 0; i < first.lines.size(); ++i) {
        if (first.lines[i].layer != second.lines[i].layer) return {};
        for (std::size_t end = 0; end < 2; ++end)
            most = std::max(most, plan::distance_mm(first.lines[i].ends[end], second.lines[i].ends[end]));
    }
    return most;
}

}  // namespace fitup::exchange
