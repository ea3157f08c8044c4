#include "paint/cairo_painter.hpp"
