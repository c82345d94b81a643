
# The words up to the cursor, by the package bash-completion where that is loaded.
__trammel_init_completion()
{
    COMPREPLY=()
    if declare -F _get_comp_words_by_ref >/dev/null 2>&1; then
        _get_comp_words_by_ref "$@" cur prev words cword
        return
    fi
    local rest=$COMP_LINE i word blanks at
    words=() cword=-1
    for ((i = 0; i <= COMP_CWORD; i++)); do
        word=${COMP_WORDS[i]}
        blanks=${rest%%[![:space:]]*}
        rest=${rest#"$blanks"}
        case $word in
            *[\'\"\\]*) ;;
            *[\<\>\&\|]*) return 1 ;;
        esac
        if ((i == COMP_CWORD)); then
            at=$((COMP_POINT - ${#COMP_LINE} + ${#rest}))
            ((at > 0)) || at=0
            cur=${word:0:at}
        fi
        if ((i > 0)) && [[ -z $blanks && ($word == [=:]* || ${COMP_WORDS[i-1]} == *[=:]) ]]; then
            cur=${words[cword]}$cur
            words[cword]=${words[cword]}$word
        else
            cword=$((cword + 1))
            words[cword]=$word
        fi
        rest=${rest#"$word"}
    done
    ((cword < 1)) || prev=${words[cword-1]}
}
