#!/usr/bin/env python3
"""Fails when an include points down the module table, or a library is used outside the module that owns it."""
import pathlib
import re
import sys

SOURCE = pathlib.Path(sys.argv[1]) / "src"

# Module -> modules it may include besides itself.
MAY_USE = {
    "base": set(),
    "geometry": {"base"},
    "document": {"base", "geometry"},
    "patterns": {"base", "geometry", "document"},
    "svg": {"base", "geometry", "document", "patterns"},
    "json": {"base", "geometry", "document"},
    "analysis": {"base", "geometry", "document", "patterns"},
    "scene": {"base", "geometry", "document", "patterns", "analysis"},
    "paint": {"base", "geometry", "document", "scene"},
    "page": {"base", "geometry", "document", "patterns", "json", "analysis", "scene", "paint"},
    "cli": {"base", "geometry", "document", "patterns", "svg", "json", "analysis", "scene", "paint", "page"},
    "app": {"base", "geometry", "document", "patterns", "svg", "json", "analysis", "scene", "paint", "page", "cli"},
}

# Library header -> files that may include it (regular expressions on the path below src/).
OWNERS = {
    r"geos_c\.h": r"^geometry/",
    r"pugixml": r"^svg/",
    r"nlohmann/": r"^json/",
    r"SFML/": r"^(paint/sfml_|app/)",
    r"imgui": r"^app/",
    r"cairo": r"^(paint/|app/)",
    r"CLI/": r"^cli/",
    r"^(jpeglib|png)\.h": r"^paint/photo_",
    r"Eigen/": r"^analysis/",
}

faults = []
files = sorted(p for p in SOURCE.rglob("*") if p.suffix in {".hpp", ".cpp"})
for path in files:
    name = path.relative_to(SOURCE).as_posix()
    module = name.split("/")[0]
    for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
        found = re.match(r'\s*#\s*include\s*([<"])([^>"]+)[>"]', line)
        if not found:
            continue
        quote, header = found.groups()
        if quote == '"':
            used = header.split("/")[0]
            if used != module and used not in MAY_USE[module]:
                faults.append(f"{name}:{number}: {module}/ may not include {header}")
        for library, owner in OWNERS.items():
            if re.search(library, header) and quote == "<" and not re.search(owner, name):
                faults.append(f"{name}:{number}: <{header}> belongs to files matching {owner}")

if len(files) < 50:
    faults.append(f"only {len(files)} source files were found below {SOURCE}: is this the right folder?")
print("\n".join(faults) if faults else f"{len(files)} files keep the layers.")
sys.exit(1 if faults else 0)
