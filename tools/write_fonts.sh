#!/bin/sh
# Writes the site's two fonts: a subset of the typeface that the sheets are printed in, from the
# package `font-source-sans-pro`. Needs pyftsubset (pip install fonttools brotli), which nothing
# else here does, so the result is committed. The licence reserves the typeface's own name to the
# whole of it: a subset goes without, so the name table keeps copyright and licence only.
# English and the signs of our own words come with every page; the letters beyond (`beyond/`), such as
# those of a name, where a page has one. Running text goes without kerning, which the eye finds in
# headings and which would be a fifth of that file.
#
# sh tools/write_fonts.sh FOLDER_OF_THE_PACKAGE'S_FILES
set -e
to=src/blockwright/web/static/blockwright
plain="U+0020-007E,U+00A0,U+00B7,U+00D7,U+2009,U+2013,U+2014,U+2018,U+2019,U+201C,U+201D,U+2026,U+2192,U+2212"
beyond="U+00A1-00B6,U+00B8-00D6,U+00D8-017F,U+0218-021B,U+2010-2012,U+2015,U+201A,U+201E,U+2022,U+202F,U+2032,U+2033,U+20AC,U+2190,U+2191,U+2193,U+2248,U+2260,U+2264,U+2265"
mkdir -p "$to/beyond"
subset() {
    pyftsubset "$1" --unicodes="$2" --output-file="$3" --flavor=woff2 --no-hinting --desubroutinize \
        --layout-features=$4 --name-IDs=0,13,14
}
for weight in Regular Semibold; do
    name=text-$(echo $weight | tr RS rs).woff2
    kern=$(echo $weight | sed 's/Regular//; s/Semibold/kern,/')
    subset "$1/SourceSansPro-$weight.ttf" "$plain" "$to/$name" ${kern}tnum,lnum
    subset "$1/SourceSansPro-$weight.ttf" "$beyond" "$to/beyond/$name" kern,mark,ccmp,locl,tnum,lnum
done
install -m 644 "$1/LICENSE.txt" "$to/text-LICENSE.txt"
