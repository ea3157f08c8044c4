// Saving: the new chart or the old one, and nothing left lying about.

#include <doctest/doctest.h>
#include <rapidcheck.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

#include <csignal>
#include <cstdlib>
#include <filesystem>
#include <limits>
#include <stdexcept>

#include "base/disk_file.hpp"
#include "json/chart_file.hpp"
#include "json/golden.hpp"
#include "json/random_chart.hpp"

using namespace padchart;
namespace fs = std::filesystem;

namespace {

/// A folder of its own that goes when the test goes.
class Folder {
public:
    Folder() {
        std::string name = (fs::temp_directory_path() / "padchart-save-XXXXXX").string();
        if (::mkdtemp(name.data()) == nullptr) throw std::runtime_error("cannot make a folder");
        path_ = name;
    }
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;
    Folder(Folder&&) = delete;
    Folder& operator=(Folder&&) = delete;
    ~Folder() { fs::remove_all(path_); }

    [[nodiscard]] fs::path operator/(const std::string& name) const { return path_ / name; }
    [[nodiscard]] std::size_t size() const {
        return static_cast<std::size_t>(std::distance(fs::directory_iterator(path_), fs::directory_iterator()));
    }

private:
    fs::path path_;
};

document::Chart titled(const std::string& title) {
    document::Chart chart;
    chart.title.title = title;
    return chart;
}

std::string told(const Result<void>& result) {
    return result ? "" : describe(result.error());
}

std::string title_in(const fs::path& path) {
    const Result<document::Chart> chart = json::load_chart(path);
    return chart ? chart->title.title : describe(chart.error());
}

} // namespace

TEST_CASE("a saved chart loads again and leaves no other file") {
    const Folder folder;
    const fs::path path = folder / "a.chart.json";
    CHECK(told(json::save_chart(titled("one"), path)) == "");
    CHECK(title_in(path) == "one");
    CHECK(told(json::save_chart(titled("two"), path)) == "");
    CHECK(title_in(path) == "two");
    CHECK(folder.size() == 1);
}

TEST_CASE("random charts are saved as files") {
    const Folder own;
    const char* wanted = std::getenv("PADCHART_RANDOM_CHARTS");
    const fs::path folder = wanted != nullptr ? fs::path(wanted) : own / "";
    int count = 0;
    CHECK(rc::check([&] {
        const document::Chart chart = json::random_chart();
        const fs::path path = folder / (std::to_string(count++) + ".chart.json");
        RC_ASSERT(told(json::save_chart(chart, path)) == "");
        const Result<document::Chart> back = json::load_chart(path);
        RC_ASSERT(back.has_value());
        RC_ASSERT(*back == chart);
    }));
}

TEST_CASE("a relative name saves into the current folder") {
    const Folder folder;
    const fs::path before = fs::current_path();
    fs::current_path(folder / "");
    const std::string said = told(json::save_chart(titled("here"), "a.chart.json"));
    fs::current_path(before);
    CHECK(said == "");
    CHECK(title_in(folder / "a.chart.json") == "here");
}

TEST_CASE("saving through a link keeps the link") {
    const Folder folder;
    fs::create_directory(folder / "kept");
    const fs::path target = folder / "kept/a.chart.json";
    const fs::path link = folder / "link.chart.json";
    REQUIRE(json::save_chart(titled("old"), target).has_value());
    fs::create_symlink("kept/a.chart.json", link);
    fs::create_symlink(link, folder / "second.chart.json");
    CHECK(told(json::save_chart(titled("new"), folder / "second.chart.json")) == "");
    CHECK(fs::is_symlink(link));
    CHECK(fs::is_symlink(folder / "second.chart.json"));
    CHECK(title_in(target) == "new");
}

TEST_CASE("saving through a link to nothing makes the file it names") {
    const Folder folder;
    fs::create_symlink("a.chart.json", folder / "link.chart.json");
    CHECK(told(json::save_chart(titled("new"), folder / "link.chart.json")) == "");
    CHECK(fs::is_symlink(folder / "link.chart.json"));
    CHECK(title_in(folder / "a.chart.json") == "new");
}

TEST_CASE("links in a circle are an error") {
    const Folder folder;
    fs::create_symlink("b", folder / "a");
    fs::create_symlink("a", folder / "b");
    CHECK(told(json::save_chart(titled("x"), folder / "a")) ==
          (folder / "a").string() + ": cannot be written: the links go round in a circle");
}

TEST_CASE("an existing file keeps its mode and a new one obeys the mask") {
    const Folder folder;
    const fs::path path = folder / "a.chart.json";
    const mode_t before = ::umask(027);
    REQUIRE(json::save_chart(titled("one"), path).has_value());
    ::umask(before);
    const auto bits = [&path] { return static_cast<unsigned>(fs::status(path).permissions()); };
    CHECK(bits() == 0640U);
    fs::permissions(path, static_cast<fs::perms>(0604U));
    REQUIRE(json::save_chart(titled("two"), path).has_value());
    CHECK(bits() == 0604U);
}

TEST_CASE("a place that cannot be written is named with the reason") {
    const Folder folder;
    REQUIRE(json::save_chart(titled("old"), folder / "file").has_value());
    const auto said = [&folder](const std::string& name) {
        return told(json::save_chart(titled("new"), folder / name));
    };
    CHECK(said("gone/a.chart.json") == (folder / "gone/a.chart.json").string() +
                                           ": cannot be written: there is no folder " + (folder / "gone").string() +
                                           "; make it again, or save into one that is there");
    CHECK(said("file/a.chart.json") ==
          (folder / "file/a.chart.json").string() + ": cannot be written: Not a directory");
    fs::create_directory(folder / "folder");
    CHECK(said("folder") == (folder / "folder").string() + ": cannot be written: Is a directory");
    REQUIRE(::mkfifo((folder / "pipe").c_str(), 0600) == 0);
    CHECK(said("pipe") == (folder / "pipe").string() + ": cannot be written: not a plain file");
    CHECK(told(json::save_chart(titled("new"), "")) == "cannot be written: No such file or directory");
    CHECK(title_in(folder / "file") == "old");
    CHECK(folder.size() == 3);
}

TEST_CASE("a disk that takes no more leaves the old file as it was and nothing beside it") {
    const Folder folder;
    const fs::path path = folder / "a.chart.json";
    REQUIRE(json::save_chart(titled("old"), path).has_value());
    // A limit on the size of files stands for the full disk: both stop a write half way.
    rlimit before{};
    REQUIRE(::getrlimit(RLIMIT_FSIZE, &before) == 0);
    const auto handler_before = std::signal(SIGXFSZ, SIG_IGN);
    const rlimit small{100, before.rlim_max};
    ::setrlimit(RLIMIT_FSIZE, &small);
    const std::string said = told(json::save_chart(titled(std::string(1000, 'x')), path));
    ::setrlimit(RLIMIT_FSIZE, &before);
    std::signal(SIGXFSZ, handler_before);
    CHECK(said == path.string() + ": cannot be written: File too large");
    CHECK(title_in(path) == "old");
    CHECK(folder.size() == 1);
}

TEST_CASE("a chart that could not be read back is not saved") {
    const Folder folder;
    const fs::path path = folder / "a.chart.json";
    REQUIRE(json::save_chart(titled("old"), path).has_value());
    document::Chart nowhere;
    document::Footprint part;
    part.id = {"r1"};
    part.placement.at.x = std::numeric_limits<double>::infinity();
    nowhere.parts.add(part);
    CHECK(told(json::save_chart(nowhere, path)) ==
          path.string() +
              ": /parts/0: not saved, as it could not be read back: the part is not at a place within 10,000 mm");
    document::Chart twice;
    twice.extras = {{"version", "2"}};
    CHECK(told(json::save_chart(twice, path)) ==
          path.string() + ": /version (line 11): not saved, as it could not be read back: the key stands twice in the "
                          "same object; right would be once");
    CHECK(title_in(path) == "old");
    CHECK(folder.size() == 1);
}

TEST_CASE("text that is not UTF-8 is mended when it is saved") {
    const Folder folder;
    const fs::path path = folder / "a.chart.json";
    REQUIRE(json::save_chart(titled("a\xE9z"), path).has_value());
    CHECK(title_in(path) == "a\uFFFDz");
}

TEST_CASE("a file that cannot be read is named with the reason") {
    const Folder folder;
    CHECK(title_in(folder / "gone") == (folder / "gone").string() + ": cannot be opened: No such file or directory");
    CHECK(title_in(folder / "") == (folder / "").string() + ": cannot be read: Is a directory");
    REQUIRE(replace_file(folder / "empty", "").has_value());
    CHECK(title_in(folder / "empty") == (folder / "empty").string() + ": the file is empty; right would be a chart");
}

TEST_CASE("large files are read and written whole") {
    const Folder folder;
    const std::string bytes(300'001, 'x');
    REQUIRE(replace_file(folder / "a", bytes).has_value());
    const Result<std::string> back = read_file(folder / "a");
    REQUIRE(back);
    CHECK(*back == bytes);
}
