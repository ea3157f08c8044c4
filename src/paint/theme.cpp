#include "paint/theme.hpp"
