#include "app/window.hpp"
