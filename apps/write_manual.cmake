# SPDX-License-Identifier: BSD-3-Clause
# Writes the pages of the manual as the program prints them: cmake -DPROGRAM=... -DFOLDER=... -P write_manual.cmake
file(REMOVE_RECURSE ${FOLDER})
execute_process(COMMAND ${PROGRAM} --manual OUTPUT_VARIABLE pages COMMAND_ERROR_IS_FATAL ANY)
string(REGEX MATCHALL "[^\n]+" pages "${pages}")
foreach(page ${pages})
  string(REGEX REPLACE ".*\\." "" section ${page})
  file(MAKE_DIRECTORY ${FOLDER}/man${section})
  execute_process(COMMAND ${PROGRAM} --manual ${page} OUTPUT_FILE ${FOLDER}/man${section}/${page} COMMAND_ERROR_IS_FATAL ANY)
endforeach()
file(WRITE ${FOLDER}/written "")
