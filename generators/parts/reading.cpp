#include "parts/reading.hpp"

#include <algorithm>
#include <filesystem>

#include "base/text.hpp"

namespace fitup::parts {

using parameters::Fault;
using parameters::Node;

Field Field::operator[](std::string_view name) const {
    const Node* value = node != nullptr && node->type == Node::Type::object ? node->find(name) : nullptr;
    return {value, value != nullptr ? value : place, parameters::key_path(key, name)};
}

Field Field::item(std::size_t index) const {
    const Node* value = index < size() ? &node->items[index] : nullptr;
    return {value, value != nullptr ? value : place, parameters::key_path(key, index)};
}

std::size_t Field::size() const {
    return node != nullptr && node->type == Node::Type::list ? node->items.size() : 0;
}

int Field::line() const { return place != nullptr ? place->line : 0; }

Field Reader::root() const {
    const Node* root = document_.root ? &*document_.root : nullptr;
    return {root, root, ""};
}

std::string Reader::folder() const { return std::filesystem::path(document_.file).parent_path().string(); }

std::optional<double> Reader::length_mm(const Field& field) const {
    if (!field) return {};
    return parameters::length_mm(*field.node, units_);
}

double Reader::length_mm_or(const Field& field, double otherwise_mm) const {
    return length_mm(field).value_or(otherwise_mm);
}

std::optional<double> Reader::number(const Field& field) const {
    if (!field || field.node->type != Node::Type::number) return {};
    return field.node->number;
}

Angle Reader::angle_or(const Field& field, Angle otherwise) const {
    const std::optional<double> degrees = number(field);
    return degrees ? Angle::from_degrees(*degrees) : otherwise;
}

std::optional<std::string> Reader::text(const Field& field) const {
    if (!field || field.node->type != Node::Type::text) return {};
    return field.node->text;
}

std::string Reader::text_or(const Field& field, std::string_view otherwise) const {
    return text(field).value_or(std::string(otherwise));
}

bool Reader::truth_or(const Field& field, bool otherwise) const {
    return field && field.node->type == Node::Type::boolean ? field.node->truth : otherwise;
}

plan::Side Reader::side_or(const Field& field, plan::Side otherwise) const {
    const std::string side = text_or(field, plan::to_text(otherwise));
    return side == "A" ? plan::Side::A : plan::Side::B;
}

plan::Point Reader::point_or(const Field& field, plan::Point otherwise) const {
    const auto x_mm = length_mm(field.item(0));
    const auto y_mm = length_mm(field.item(1));
    return x_mm && y_mm ? plan::Point{*x_mm, *y_mm} : otherwise;
}

std::vector<plan::Point> Reader::points(const Field& field) const {
    std::vector<plan::Point> points;
    for (std::size_t i = 0; i < field.size(); ++i) points.push_back(point_or(field.item(i), {}));
    return points;
}

plan::Point3 Reader::point3_or(const Field& field, plan::Point3 otherwise) const {
    const auto x_mm = length_mm(field.item(0));
    const auto y_mm = length_mm(field.item(1));
    const auto z_mm = length_mm(field.item(2));
    return x_mm && y_mm && z_mm ? plan::Point3{*x_mm, *y_mm, *z_mm} : otherwise;
}

void Reader::wrong(const Field& field, const std::string& wanted, const std::string& advice) {
    if (field) return add(parameters::wrong_value(document_.file, *field.node, field.key, wanted, advice));
    if (field.place == nullptr) return;
    const std::string sentence = "missing; wanted " + wanted + (advice.empty() ? "" : "; " + advice);
    Fault fault = parameters::wrong_in_words(document_.file, *field.place, field.key, sentence);
    fault.found = "nothing";
    fault.wanted = wanted;
    add(std::move(fault));
}

void Reader::wrong_in_words(const Field& field, const std::string& sentence) {
    if (field.place == nullptr) return;
    add(parameters::wrong_in_words(document_.file, *field.place, field.key, sentence));
}

void Reader::unknown_name(const Field& field, const std::string& wanted, std::span<const std::string> names) {
    const auto nearest = nearest_word(text_or(field, ""), names);
    wrong(field, wanted, nearest ? "the nearest is \"" + *nearest + "\"" : "");
}

std::string Reader::length_text(double length_mm) const {
    if (units_ == plan::Units::in) return short_text(length_mm / 25.4, 4) + " in";
    return short_text(length_mm, 3) + " mm";
}

void Reader::add(Fault fault) {
    const auto same_place = [&](const Fault& other) {
        return other.key == fault.key && other.line == fault.line;
    };
    if (std::none_of(faults_.begin(), faults_.end(), same_place)) faults_.push_back(std::move(fault));
}

plan::Units units_of(const parameters::Document& document) {
    const Node* units = document.root ? document.root->find("units") : nullptr;
    return units != nullptr && units->text == "in" ? plan::Units::in : plan::Units::mm;
}

}  // namespace fitup::parts
