# SPDX-License-Identifier: BSD-3-Clause
# Writes a C file that holds the given files as arrays, so that the program needs none of them when it runs.
# Usage: cmake -DOUTPUT=parts.c -DPARTS=name=path,name=path,... -P embed.cmake
string(REPLACE "," ";" parts "${PARTS}")
set(arrays "")
set(rows "")
set(number 0)
foreach(part ${parts})
  string(REGEX MATCH "^([^=]*)=(.*)$" matched "${part}")
  set(name "${CMAKE_MATCH_1}")
  set(path "${CMAKE_MATCH_2}")
  file(READ "${path}" bytes HEX)
  string(REGEX REPLACE "([0-9a-f][0-9a-f])" "0x\\1," bytes "${bytes}")
  string(REGEX REPLACE "(0x..,0x..,0x..,0x..,0x..,0x..,0x..,0x..,0x..,0x..,0x..,0x..,0x..,0x..,0x..,0x..,)" "\\1\n" bytes "${bytes}")
  string(APPEND arrays "static const unsigned char part_${number}[] = {\n${bytes}0};\n")
  string(APPEND rows "    {\"${name}\", (const char *)part_${number}, sizeof part_${number} - 1},\n")
  math(EXPR number "${number} + 1")
endforeach()
file(WRITE "${OUTPUT}" "/* Written by embed.cmake. */\n#include \"page_parts.h\"\n\n${arrays}\nconst page_part page_parts[] = {\n${rows}};\nconst size_t page_part_count = ${number};\n")
