#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# Each source file names the licence, once, in one of its first two lines, as SPDX 2.3 (annex E) has it; the name is that of LICENSE.
set -eu
root=$(cd "$(dirname "$0")/../.." && pwd)
cd "$root"
grep -q '^BSD 3-Clause License$' LICENSE || { echo "test_licence_lines: LICENSE is not the licence that the files name"; exit 1; }
find CMakeLists.txt lib apps tests validation docs .ci -path '*/node_modules' -prune -o -type f \( -name '*.[ch]' -o -name '*.py' -o -name '*.sh' \
    -o -name '*.js' -o -name '*.mjs' -o -name '*.ts' -o -name '*.css' -o -name '*.cmake' -o -name CMakeLists.txt -o -name '*.bash' \
    -o -name '*.fish' -o -name _stallwright -o -name run -o -name Containerfile \) -print >"${2:?scratch folder}.files"
awk 'function close_file() { if (file != "" && found != 1) { print "test_licence_lines: " file " names its licence " found + 0 " times in its first two lines"; bad = 1 } }
FNR == 1 { close_file(); file = FILENAME; found = 0; count++ }
FNR <= 2 && /^(#|\/\/|\/\*) SPDX-License-Identifier: BSD-3-Clause( \*\/)?$/ { found++ }
END { close_file(); if (count < 700) { print "test_licence_lines: only " count " files were found"; bad = 1 } exit bad }' $(cat "$2.files")
echo "test_licence_lines: $(wc -l <"$2.files") files name their licence"
