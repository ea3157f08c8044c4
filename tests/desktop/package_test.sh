#!/usr/bin/env bash
# Makes the Debian package of a finished build, unpacks it and looks at it as its users and their desktops would.
# Usage: package_test.sh BUILD-FOLDER      Exit code 77 where a tool it needs is missing.
set -euo pipefail
build=$1
for tool in cpack dpkg-deb dpkg-shlibdeps desktop-file-validate appstreamcli lintian groff update-mime-database; do
    command -v "$tool" >/dev/null || { echo "skipped: $tool is missing"; exit 77; }
done
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
fail() { echo "FAIL: $*"; exit 1; }

(umask 022; cpack --config "$build/CPackConfig.cmake" -B "$work" >"$work/cpack.log" 2>&1) ||
    { tail -n 20 "$work/cpack.log"; fail "the package cannot be made"; }
package=$(ls "$work"/*.deb)
dpkg-deb --extract "$package" "$work/unpacked"
root=$work/unpacked/usr
echo "package: $(basename "$package"), $(du -k "$package" | cut -f1) KiB"

# What it needs is named: libraries, and a font to write with.
depends=$(dpkg-deb --field "$package" Depends)
for wanted in libc6 libcairo2 libgeos-c1v5 'fonts-inter | fonts-dejavu-core'; do
    [[ $depends == *"$wanted"* ]] || fail "the package does not depend on $wanted, only on $depends"
done
if [ -e "$root/bin/padchart-window" ]; then
    [[ $depends == *libsfml-graphics2.5* ]] || fail "the window's libraries are not named: $depends"
    desktop-file-validate "$root"/share/applications/*.desktop || fail "the desktop entry"
    appstreamcli validate --no-net --pedantic "$root"/share/metainfo/*.metainfo.xml | tee "$work/appstream" || fail "the metainfo"
    update-mime-database "$root/share/mime" 2>"$work/mime.err" || fail "the MIME type: $(cat "$work/mime.err")"
    grep -q 'vnd.padchart.chart+json:\*\.chart\.json' "$root/share/mime/globs2" || fail "*.chart.json has no type"
    exec_line=$(sed -n 's/^Exec=\([^ ]*\).*/\1/p' "$root"/share/applications/*.desktop)
    [ -x "$root/bin/$exec_line" ] || fail "the desktop entry starts $exec_line, which is not there"
    icon=$(sed -n 's/^Icon=//p' "$root"/share/applications/*.desktop)
    [ -e "$root/share/icons/hicolor/scalable/apps/$icon.svg" ] || fail "the icon $icon is not there"
fi

# The unpacked program works on the unpacked demo, and the way to the window is beside it.
"$root/bin/padchart" --version | grep -q '[0-9]' || fail "padchart --version"
"$root/bin/padchart" fit "$root/share/padchart/demo/river-logger.chart.json" >"$work/fit.txt" || [ $? -eq 1 ] ||
    fail "padchart fit on the installed demo"
[ -s "$work/fit.txt" ] || fail "padchart fit said nothing"
"$root/bin/padchart" sheet "$root/share/padchart/demo/river-logger.chart.json" -o "$work/sheet.pdf" || fail "the sheet"

# The manual page has no fault that the formatter knows of, and names every command.
page=$root/share/man/man1/padchart.1.gz
gzip -dc "$page" >"$work/padchart.1"
groff -man -ww -z -Tutf8 "$work/padchart.1" 2>"$work/groff.err" || true
[ -s "$work/groff.err" ] && fail "the manual page: $(head -n 3 "$work/groff.err")"
for command in $("$root/bin/padchart" --help | sed -n '/^Subcommands/,$s/^  \([a-z]\+\) .*/\1/p'); do
    grep -q "^.SS padchart $command\$" "$work/padchart.1" || fail "the manual page does not tell of $command"
done

# The completions are what their shells can read, and bash answers with them.
bash -n "$root/share/bash-completion/completions/padchart" || fail "the completion for bash"
answer=$(bash -c ". $root/share/bash-completion/completions/padchart; COMP_WORDS=(padchart cle); COMP_CWORD=1; _padchart; echo \"\${COMPREPLY[@]}\"")
[ "$answer" = clearance ] || fail "bash completes 'cle' to '$answer'; right would be 'clearance'"
if command -v zsh >/dev/null; then zsh -n "$root/share/zsh/vendor-completions/_padchart" || fail "the completion for zsh"; fi
if command -v fish >/dev/null; then fish --no-execute "$root/share/fish/vendor_completions.d/padchart.fish" || fail "the completion for fish"; fi

# Debian's own checker: no error. Its warnings are shown. What it says of the mail address and of a closed bug in the
# changelog is about uploads to Debian, which this package is not.
lintian --fail-on error --suppress-tags bogus-mail-host-in-debian-changelog,bogus-mail-host,initial-upload-closes-no-bugs "$package" ||
    fail "lintian"
echo "the package is fine"
