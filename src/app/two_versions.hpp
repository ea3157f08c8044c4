#pragma once
// One wording for what can be done where a file is no longer what was read from it or written to it here.

#include <string_view>

namespace padchart::app {

inline constexpr std::string_view kTwoVersions = "\"Take the newer file\", in the list of actions, brings that in as "
                                                 "one step that undo takes back and keeps yours in a file; \"Save as\" "
                                                 "keeps yours under another name.";

} // namespace padchart::app
