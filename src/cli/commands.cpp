#include "cli/commands.hpp"
