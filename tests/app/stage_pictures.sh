#!/usr/bin/env bash
# Draws every stage in every theme at the sizes people sit at, without driving anything, to be looked at: one picture
# each, and where ImageMagick is there, one sheet a stage and size with the three themes beside each other.
# Usage: stage_pictures.sh PADCHART-WINDOW REPOSITORY FOLDER [STAGE...]
set -uo pipefail
program=$1 root=$2 pictures=$3
shift 3
stages=("$@")
[ ${#stages[@]} -gt 0 ] || stages=(survey orient heat access inspect hand-over)
screen=2560x1440
. "$(dirname "$0")/window_tour.sh"
mkdir -p "$pictures"
made=0
for size in 1280x720@1 1280x720@1.5 1280x720@2 1600x1000@1 1600x1000@2 1920x1080@1.5 2560x1440@2; do
    for stage in "${stages[@]}"; do
        of_stage=()
        for theme in paper dark-room grey-print; do
            picture=$pictures/$stage-${size/@/-}-$theme.png
            "$program" "$root/demo/river-logger.chart.json" --stage "$stage" --select U4 --size "${size%@*}" \
                --scale "${size#*@}" --theme "$theme" --snapshot "$picture" 2>"$work/output" ||
                fail "$stage, $theme, $size: no picture"
            of_stage+=("$picture")
            made=$((made + 1))
        done
        command -v montage >/dev/null && montage "${of_stage[@]}" -tile 1x -geometry +0+8 "$pictures/$stage-${size/@/-}.png"
    done
done
echo "$made pictures in $pictures"
