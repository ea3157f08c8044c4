// XDG Base Directory Specification 0.8, "Environment variables": defaults below $HOME, relative paths are to be
// ignored.

#include <doctest/doctest.h>

#include <cstdlib>
#include <optional>
#include <string>

#include "cli/user_folders.hpp"

using namespace padchart::cli;

namespace {

/// Sets a variable of the environment until it goes out of scope; nullptr takes it away.
class Variable {
public:
    Variable(const char* name, const char* value) : name_(name) {
        if (const char* before = std::getenv(name)) before_ = before;
        value == nullptr ? unsetenv(name) : setenv(name, value, 1);
    }
    Variable(const Variable&) = delete;
    Variable& operator=(const Variable&) = delete;
    ~Variable() { before_ ? setenv(name_, before_->c_str(), 1) : unsetenv(name_); }

private:
    const char* name_;
    std::optional<std::string> before_;
};

} // namespace

TEST_CASE("the user's folders lie where the environment says") {
    const Variable config("XDG_CONFIG_HOME", "/srv/config"), data("XDG_DATA_HOME", "/srv/data"),
        state("XDG_STATE_HOME", "/srv/state");
    CHECK(config_folder() == "/srv/config/padchart");
    CHECK(data_folder() == "/srv/data/padchart");
    CHECK(state_folder() == "/srv/state/padchart");
}

TEST_CASE("without a word in the environment the user's folders lie below the home folder") {
    const Variable home("HOME", "/home/tarn"), config("XDG_CONFIG_HOME", nullptr), data("XDG_DATA_HOME", ""),
        state("XDG_STATE_HOME", "state");
    CHECK(config_folder() == "/home/tarn/.config/padchart");
    CHECK(data_folder() == "/home/tarn/.local/share/padchart");
    CHECK_MESSAGE(state_folder() == "/home/tarn/.local/state/padchart", "a relative path does not count");
}

TEST_CASE("without a home folder there are no user's folders") {
    const Variable home("HOME", nullptr), config("XDG_CONFIG_HOME", nullptr);
    CHECK(config_folder().empty());
}
