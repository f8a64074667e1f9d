# SPDX-License-Identifier: BSD-3-Clause
# Writes the JSON Schemas as the program prints them: cmake -DPROGRAM=... -DFOLDER=... -P write_schemas.cmake
file(REMOVE_RECURSE ${FOLDER})
file(MAKE_DIRECTORY ${FOLDER})
execute_process(COMMAND ${PROGRAM} --schema OUTPUT_VARIABLE names COMMAND_ERROR_IS_FATAL ANY)
string(REGEX MATCHALL "[^\n]+" names "${names}")
foreach(name ${names})
  execute_process(COMMAND ${PROGRAM} --schema ${name} OUTPUT_FILE ${FOLDER}/${name}.json COMMAND_ERROR_IS_FATAL ANY)
endforeach()
file(WRITE ${FOLDER}/written "")
