// Whatever bytes come: an error with words, or a chart that is written and read back the same.

#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <string_view>

#include "document/edits.hpp"
#include "json/chart_file.hpp"

namespace {

using namespace padchart;

void demand(bool truth, const char* what, const std::string& details) {
    if (truth) return;
    std::fprintf(stderr, "%s\n%s\n", what, details.c_str());
    std::abort();
}

void check_error(const Error& error) {
    demand(!error.message.empty(), "an error without words", error.where);
    demand(error.message.find("json.exception") == std::string::npos, "an error in the library's words", error.message);
}

void check_chart(const document::Chart& chart) {
    demand(!document::fault_of(chart), "a chart that may not be was loaded", "");
    const std::string text = json::write_chart(chart);
    const Result<document::Chart> back = json::read_chart(text);
    demand(back.has_value(), "what was written is not read", text + (back ? "" : describe(back.error())));
    demand(*back == chart, "what was written reads back as something else", text);
    demand(json::write_chart(*back) == text, "the second writing differs", text);
}

} // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view text(reinterpret_cast<const char*>(data), size);
    const Result<document::Chart> chart = json::read_chart(text, "fuzz");
    if (chart)
        check_chart(*chart);
    else
        check_error(chart.error());
    return 0;
}
