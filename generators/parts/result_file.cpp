#include "parts/result_file.hpp"

#include <filesystem>
#include <variant>

#include "base/error.hpp"
#include "base/file.hpp"

namespace fitup::parts {

namespace {

using parameters::Node;

/// What is wrong with a file that should hold a result; in words, for a message.
struct Trouble {
    std::string words;
};

Trouble wrong_object(const Node& object, const std::string& calculation) {
    const std::string kind = text_in(object, "calculation");
    if (object.has("format"))
        return {"it is a parameter file; `fitup calculate` writes its NAME.result.json"};
    if (!kind.empty()) return {"it is the result of a " + kind};
    return {"it has no \"calculation\": \"" + calculation + "\""};
}

std::variant<Node, Trouble> only_one(const Node& list, const std::string& calculation) {
    const Node* found = nullptr;
    for (const Node& item : list.items) {
        if (text_in(item, "calculation") != calculation || item.has("format")) continue;
        if (found != nullptr) return Trouble{"it holds several of them; give the NAME.result.json of one"};
        found = &item;
    }
    if (found == nullptr) return Trouble{"none of the results in it is one"};
    return *found;
}

std::variant<Node, Trouble> result_in(parameters::Document document, const std::string& calculation) {
    if (!document.faults.empty()) return Trouble{parameters::to_text(document.faults.front())};
    Node& root = *document.root;
    if (const Node* list = root.find("calculations")) return only_one(*list, calculation);
    if (text_in(root, "calculation") != calculation || root.has("format"))
        return wrong_object(root, calculation);
    return std::move(root);
}

}  // namespace

std::optional<Node> read_result(Reader& reader, const Field& field, std::string_view calculation) {
    const auto name = reader.text(field);
    if (!name) return {};
    const std::string kind(calculation), wanted = "the result file of a " + kind;
    const std::string path = (std::filesystem::path(reader.folder()) / *name).string();
    try {
        auto found = result_in(parameters::read_json(read_file(path), path), kind);
        if (Node* node = std::get_if<Node>(&found)) return std::move(*node);
        reader.wrong(field, wanted, std::get<Trouble>(found).words);
    } catch (const FileError& error) {
        reader.wrong(field, wanted, std::string(error.what()) + "; `fitup calculate` writes it");
    }
    return {};
}

std::optional<double> number_in(const Node& object, std::string_view key) {
    const Node* value = object.find(key);
    if (value == nullptr || value->type != Node::Type::number) return {};
    return value->number;
}

std::string text_in(const Node& object, std::string_view key) {
    const Node* value = object.find(key);
    return value != nullptr && value->type == Node::Type::text ? value->text : "";
}

}  // namespace fitup::parts
