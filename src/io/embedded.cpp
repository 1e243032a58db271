#include "shedbook/io/embedded.h"

namespace shedbook {

std::string_view embedded_template(std::string_view name) {
    for (const EmbeddedTemplate& file : embedded_templates()) {
        if (file.name == name) return file.text;
    }
    return {};
}

}  // namespace shedbook
