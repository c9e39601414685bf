# midspan.bash: completion for bash, made from the descriptions of the options.
_midspan() {
    local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD - 1]} words=
    COMPREPLY=()
    if ((COMP_CWORD == 1)); then
        words='analyze listen predict devices --help --version'
    else
        case ${COMP_WORDS[1]}:$before in
            analyze:--plucks) words='alternate grouped' ;;
            analyze:--clockwise) words='toward-tail toward-nut' ;;
            analyze:--units) words='mm inch' ;;
            analyze:*) if [[ $word == -* ]]; then words='--scale-length --instrument --tuning --a4 --plucks --string --channel --thread --clockwise --tolerance --units --json --no-record --help'; fi ;;
            listen:--plucks) words='alternate' ;;
            listen:--clockwise) words='toward-tail toward-nut' ;;
            listen:--units) words='mm inch' ;;
            listen:*) if [[ $word == -* ]]; then words='--scale-length --instrument --device --keep --say --tuning --a4 --plucks --string --channel --thread --clockwise --tolerance --units --json --no-record --help'; fi ;;
            predict:--units) words='mm inch' ;;
            predict:*) if [[ $word == -* ]]; then words='--gauges --scale-length --instrument --tuning --a4 --action --nut-height --relief --to-gauges --to-tuning --to-action --to-nut-height --to-relief --units --json --help'; fi ;;
            devices:*) if [[ $word == -* ]]; then words='--json --help'; fi ;;
        esac
    fi
    # shellcheck disable=SC2207  # no word of ours holds a blank
    COMPREPLY=($(compgen -W "$words" -- "$word"))
}
# Where nothing fits, a file is meant.
complete -o default -F _midspan midspan
