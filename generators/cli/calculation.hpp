#pragma once

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "exchange/make.hpp"
#include "parameters/node.hpp"
#include "plan/finding.hpp"
#include "plan/work.hpp"
#include "sheets/drawing.hpp"

/// A calculation on its way from file to result, the same for every kind.
namespace fitup::cli {

/// A drawing of a result, to be written as NAME + `suffix` + .svg and .png.
struct Picture {
    std::string suffix;  ///< "" for the chart itself, "-from-above" ..
    std::string svg;
    std::string png;
};

/// @throws KernelError when what draws can't be loaded
Picture picture_of(const std::string& suffix, const sheets::Drawing& drawing);

/// What `calculate` tells of one file.
struct CalculationResult {
    std::string file;
    std::string calculation;  ///< kind
    std::string name;
    std::string revision;
    plan::Work figures;  ///< the kind's own keys of the result object, in order
    plan::Findings findings;
    /// False where the answer is no (a position falls between, nothing bolts up): exit status 3.
    bool holds = true;
    std::string text;  ///< the result as tables for people
    std::vector<Picture> pictures;
    std::vector<exchange::MadeFile> files;
    std::string failure;  ///< what could not be written
};

using Progress = exchange::Progress;

/// What a call asks of a calculation beyond its file.
struct CalculationWishes {
    bool pictures = true;
};

/// A calculation read without faults and ready to be worked out, or its faults.
struct ReadCalculation {
    std::function<CalculationResult(const CalculationWishes&, const Progress&)> work;
    parameters::Faults faults;
    std::string stem;  ///< NAME or NAME-rREVISION, of the files that come of it
};

/// Reads and checks a calculation's file.
/// @param file  where `bytes` come from: paths in the file are relative to its folder
ReadCalculation read_calculation(std::string_view bytes, const std::string& file);

// One function a kind, each in its own source.
ReadCalculation read_as_made_calculation(const parameters::Document& document);
ReadCalculation read_clocking_calculation(const parameters::Document& document);
ReadCalculation read_linkage_calculation(const parameters::Document& document);
ReadCalculation read_concentricity_calculation(const parameters::Document& document);
ReadCalculation read_stack_calculation(const parameters::Document& document);
ReadCalculation read_survey_calculation(const parameters::Document& document);

/// The result object of one calculation, and that of a call.
std::string calculation_json(const CalculationResult& result);
std::string calculations_json(const std::vector<CalculationResult>& results);

/// The result for people: its tables, findings and files.
std::string calculation_text(const CalculationResult& result, const class Console& console);

}  // namespace fitup::cli
