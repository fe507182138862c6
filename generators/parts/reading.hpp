#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "parameters/fault.hpp"
#include "parameters/length.hpp"
#include "parameters/node.hpp"
#include "plan/plan.hpp"

/// Reading a checked document into typed parameters, each fault at its key's place.
namespace fitup::parts {

/// A value of the file with its key path. Without a value, `place` is the nearest object above that has one.
struct Field {
    const parameters::Node* node = nullptr;
    const parameters::Node* place = nullptr;
    std::string key;

    explicit operator bool() const { return node != nullptr; }
    /// The member of that name; without value where there is none, or where this is no object.
    Field operator[](std::string_view name) const;
    Field item(std::size_t index) const;
    /// Number of items of a list; 0 for anything else.
    std::size_t size() const;
    int line() const;
};

/// Reads fields and collects faults.
///
/// The schema has judged types and ranges already, but a file with schema faults is read as well, so that an
/// unknown thread is told together with a misspelt key: a value that is missing or of a wrong type reads as
/// nothing, without a fault of its own.
class Reader {
  public:
    Reader(const parameters::Document& document, plan::Units units)
        : document_(document), units_(units), faults_(document.faults) {}

    Field root() const;
    plan::Units units() const { return units_; }
    const parameters::Faults& faults() const { return faults_; }
    /// The folder that paths in the file are relative to.
    std::string folder() const;
    bool has_faults() const { return !faults_.empty(); }

    std::optional<double> length_mm(const Field& field) const;
    double length_mm_or(const Field& field, double otherwise_mm) const;
    std::optional<double> number(const Field& field) const;
    Angle angle_or(const Field& field, Angle otherwise) const;
    std::optional<std::string> text(const Field& field) const;
    std::string text_or(const Field& field, std::string_view otherwise) const;
    bool truth_or(const Field& field, bool otherwise) const;
    plan::Side side_or(const Field& field, plan::Side otherwise) const;
    plan::Point point_or(const Field& field, plan::Point otherwise) const;
    std::vector<plan::Point> points(const Field& field) const;
    plan::Point3 point3_or(const Field& field, plan::Point3 otherwise) const;

    /// "KEY: found VALUE, wanted WANTED; ADVICE". A second fault at the same place is dropped.
    void wrong(const Field& field, const std::string& wanted, const std::string& advice = {});
    /// "KEY: SENTENCE"
    void wrong_in_words(const Field& field, const std::string& sentence);
    /// A name that a table does not have: what was wanted, and the nearest of `names`.
    void unknown_name(const Field& field, const std::string& wanted, std::span<const std::string> names);

    /// "40 mm", or "1.5748 in" in a file in inches.
    std::string length_text(double length_mm) const;

  private:
    void add(parameters::Fault fault);

    const parameters::Document& document_;
    plan::Units units_;
    parameters::Faults faults_;
};

/// What a bare number of the file means; mm where the file does not say (the schema has then found the
/// fault).
plan::Units units_of(const parameters::Document& document);

}  // namespace fitup::parts
