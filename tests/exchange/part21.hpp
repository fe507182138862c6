#pragma once

#include <cmath>
#include <map>
#include <regex>
#include <string>
#include <vector>

/// A reader of ISO 10303-21 of the tests' own: plain text, no kernel. Enough to find cylinders.
namespace fitup::exchange::testing {

class Part21 {
  public:
    explicit Part21(std::string text) {
        // Texts are broken at column 72: joined again, an instance ends at its semicolon.
        std::erase(text, '\n');
        std::erase(text, '\r');
        std::size_t at = text.find("DATA;");
        while (at != std::string::npos && (at = text.find('#', at)) != std::string::npos) {
            const std::size_t equals = text.find('=', at);
            const std::size_t end = text.find(';', at);
            if (equals == std::string::npos || end == std::string::npos || equals > end) break;
            instances_[std::stol(text.substr(at + 1, equals - at - 1))] =
                text.substr(equals + 1, end - equals - 1);
            at = end;
        }
    }

    struct Cylinder {
        double x = 0.0, y = 0.0, radius = 0.0;
    };

    std::vector<Cylinder> cylinders() const {
        std::vector<Cylinder> found;
        for (const auto& [id, body] : instances_) {
            if (name(body) != "CYLINDRICAL_SURFACE") continue;
            const std::string& placement = instances_.at(references(body).at(0));
            const std::vector<double> point = numbers(instances_.at(references(placement).at(0)));
            found.push_back({point.at(0), point.at(1), std::stod(body.substr(body.rfind(',') + 1))});
        }
        return found;
    }

    std::size_t count(const std::string& type) const {
        std::size_t sum = 0;
        for (const auto& [id, body] : instances_) sum += name(body) == type ? 1 : 0;
        return sum;
    }

    /// What stands behind `#n =`, of every instance of the type.
    std::vector<std::string> all(const std::string& type) const {
        std::vector<std::string> found;
        for (const auto& [id, body] : instances_) {
            if (name(body) == type) found.push_back(body);
        }
        return found;
    }

    /// Names of faces, as often as they stand there.
    std::map<std::string, int> face_names() const {
        std::map<std::string, int> names;
        for (const auto& [id, body] : instances_) {
            if (name(body) != "ADVANCED_FACE") continue;
            const std::size_t start = body.find('\'') + 1;
            ++names[body.substr(start, body.find('\'', start) - start)];
        }
        return names;
    }

  private:
    static std::string name(const std::string& body) {
        const std::size_t start = body.find_first_not_of(' ');
        return body.substr(start, body.find_first_of(" (", start) - start);
    }
    static std::vector<long> references(const std::string& body) {
        std::vector<long> list;
        for (std::size_t at = 0; (at = body.find('#', at)) != std::string::npos; ++at)
            list.push_back(std::stol(body.substr(at + 1)));
        return list;
    }
    static std::vector<double> numbers(const std::string& body) {
        std::vector<double> list;
        std::size_t at = body.rfind('(') + 1;
        while (at < body.size() && body[at] != ')') {
            std::size_t used = 0;
            list.push_back(std::stod(body.substr(at), &used));
            at += used;
            if (at < body.size() && body[at] == ',') ++at;
        }
        return list;
    }
    std::map<long, std::string> instances_;
};

}  // namespace fitup::exchange::testing
