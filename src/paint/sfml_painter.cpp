#include "paint/sfml_painter.hpp"
