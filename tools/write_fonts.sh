#!/bin/sh
# Writes the site's two fonts: a subset of the typeface that the sheets are printed in, from the
# package `font-source-sans-pro`. Needs pyftsubset (pip install fonttools brotli), which nothing
# else here does, so the result is committed. The licence reserves the typeface's own name to the
# whole of it: a subset goes without, so the name table keeps copyright and licence only.
#
# sh tools/write_fonts.sh FOLDER_OF_THE_PACKAGE'S_FILES
set -e
to=src/blockwright/web/static/blockwright
for weight in Regular Semibold; do
    pyftsubset "$1/SourceSansPro-$weight.ttf" \
        --unicodes="U+0020-007E,U+00A0-017F,U+0218-021B,U+2009,U+2010-2015,U+2018-201E,U+2022,U+2026,U+202F,U+2032,U+2033,U+20AC,U+2190-2193,U+2212,U+2248,U+2260,U+2264,U+2265" \
        --layout-features=kern,mark,ccmp,locl,tnum,lnum --name-IDs=0,13,14 --no-hinting --desubroutinize \
        --flavor=woff2 --output-file="$to/text-$(echo $weight | tr RS rs).woff2"
done
install -m 644 "$1/LICENSE.txt" "$to/text-LICENSE.txt"
