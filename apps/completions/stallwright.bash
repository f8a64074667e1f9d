# SPDX-License-Identifier: BSD-3-Clause
# Completion for bash: asks the program what could come next.
_stallwright() {
    local line=${COMP_LINE:0:COMP_POINT} word typed before candidate ending
    local -a words=()
    # As blanks part them: bash would part NAME=VALUE too.
    read -ra words <<<"$line"
    [[ $line == *[[:space:]] ]] && words+=("")
    typed=${words[-1]}
    # Bash replaces only what stands behind the last of these.
    before=${typed%"${typed##*[=:]}"}
    COMPREPLY=()
    while IFS= read -r candidate; do
        if [[ $candidate == "<file>"* ]]; then
            compopt -o filenames 2>/dev/null
            while IFS= read -r word; do COMPREPLY+=("$word"); done < <(compgen -d -- "$typed")
            [[ $candidate == "<file>" ]] && candidate="<file> "
            for ending in ${candidate#<file>}; do
                while IFS= read -r word; do COMPREPLY+=("$word"); done < <(compgen -f -X "!*$ending" -- "$typed")
            done
            if [[ $candidate == "<file> " ]]; then
                COMPREPLY=()
                while IFS= read -r word; do COMPREPLY+=("$word"); done < <(compgen -f -- "$typed")
            fi
        else
            [[ $candidate == *= ]] && compopt -o nospace 2>/dev/null
            COMPREPLY+=("${candidate#"$before"}")
        fi
    done < <("${words[0]}" --complete "${words[@]:1}" 2>/dev/null)
}
complete -F _stallwright stallwright
