#include "parts/pattern_fasteners.hpp"

#include "parts/reading.hpp"

namespace fitup::parts {

std::vector<plan::PatternFastener> pattern_fasteners(std::string_view bytes, const std::string& file) {
    const parameters::Document document = parameters::read_json(bytes, file);
    const Reader reader(document, units_of(document));
    const Field patterns = reader.root()["patterns"];
    std::vector<plan::PatternFastener> fasteners;
    for (std::size_t i = 0; i < patterns.size(); ++i) {
        const Field field = patterns.item(i)["fastener"];
        if (!field) continue;
        fasteners.push_back({reader.text_or(patterns.item(i)["name"], ""), reader.text_or(field["kind"], ""),
                             reader.length_mm(field["reach"])});
    }
    return fasteners;
}

}  // namespace fitup::parts
