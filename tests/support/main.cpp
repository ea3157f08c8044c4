#define DOCTEST_CONFIG_IMPLEMENT_WITH_MAIN
#include <doctest/doctest.h>

// The font library keeps 288 bytes of its settings for the life of the process, whatever is asked of it; they are not
// ours to free. Everything else that leaks still fails the run. The name is the leak checker's own.
extern "C" const char* __lsan_default_suppressions();
extern "C" const char* __lsan_default_suppressions() {
    return "leak:libfontconfig";
}
