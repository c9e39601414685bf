# midspan.bash: completion for bash, made from the descriptions of the options.
_midspan() {
    local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD - 1]} words= names=
    local command=${COMP_WORDS[1]} at=1
    COMPREPLY=()
    case $command in
        instrument) at=2 command+=" ${COMP_WORDS[2]}" words='add change list show delete restore' ;;
        visit) at=2 command+=" ${COMP_WORDS[2]}" words='begin note moved list show remove restore end' ;;
    esac
    if ((COMP_CWORD == 1)); then
        words='analyze listen predict survey devices instrument visit measure compare history sheet export import --help --version'
    elif ((COMP_CWORD > at)); then
        words=
        case $command:$before in
            'analyze':--instrument) names=1 ;;
            'analyze':--plucks) words='alternate grouped' ;;
            'analyze':--clockwise) words='toward-tail toward-nut' ;;
            'analyze':--units) words='mm inch' ;;
            'analyze':*) if [[ $word == -* ]]; then words='--scale-length --instrument --tuning --a4 --plucks --string --channel --thread --clockwise --tolerance --units --json --record --no-record --help'; fi ;;
            'listen':--instrument) names=1 ;;
            'listen':--plucks) words='alternate' ;;
            'listen':--clockwise) words='toward-tail toward-nut' ;;
            'listen':--units) words='mm inch' ;;
            'listen':*) if [[ $word == -* ]]; then words='--scale-length --instrument --device --keep --say --tuning --a4 --plucks --string --channel --thread --clockwise --tolerance --units --json --record --no-record --help'; fi ;;
            'predict':--instrument) names=1 ;;
            'predict':--units) words='mm inch' ;;
            'predict':*) if [[ $word == -* ]]; then words='--gauges --scale-length --instrument --tuning --a4 --action --nut-height --relief --to-gauges --to-tuning --to-action --to-nut-height --to-relief --units --json --help'; fi ;;
            'survey':--instrument) names=1 ;;
            'survey':--reference) words='open harmonic' ;;
            'survey':--bridge) words='individual-saddles shared-saddles one-piece' ;;
            'survey':--units) words='mm inch' ;;
            'survey':*) if [[ $word == -* ]]; then words='--scale-length --instrument --tuning --gauges --action --nut-height --relief --frets --capo --string --reference --weight --bridge --listen --picture --json --a4 --target --channel --device --units --record --no-record --help'; fi ;;
            'devices':*) if [[ $word == -* ]]; then words='--json --help'; fi ;;
            'instrument add':--clockwise) words='toward-tail toward-nut' ;;
            'instrument add':--kind) words='electric acoustic classical bass other' ;;
            'instrument add':--bridge) words='individual-saddles shared-saddles one-piece' ;;
            'instrument add':*) if [[ $word == -* ]]; then words='--file --scale-length --tuning --thread --clockwise --travel --kind --strings --gauges --frets --radius --bridge --left-handed --notes --record --help'; else names=1; fi ;;
            'instrument change':--clockwise) words='toward-tail toward-nut' ;;
            'instrument change':--kind) words='electric acoustic classical bass other' ;;
            'instrument change':--bridge) words='individual-saddles shared-saddles one-piece' ;;
            'instrument change':*) if [[ $word == -* ]]; then words='--name --scale-length --tuning --thread --clockwise --travel --kind --strings --gauges --frets --radius --bridge --left-handed --notes --record --help'; else names=1; fi ;;
            'instrument list':*) if [[ $word == -* ]]; then words='--names --deleted --json --record --help'; fi ;;
            'instrument show':--units) words='mm inch' ;;
            'instrument show':*) if [[ $word == -* ]]; then words='--units --json --record --help'; else names=1; fi ;;
            'instrument delete':*) if [[ $word == -* ]]; then words='--yes --record --help'; else names=1; fi ;;
            'instrument restore':*) if [[ $word == -* ]]; then words='--record --help'; else names=1; fi ;;
            'visit begin':--instrument) names=1 ;;
            'visit begin':*) if [[ $word == -* ]]; then words='--instrument --day --who --strings --gauges --fitted --temperature --humidity --done --note --record --help'; fi ;;
            'visit note':--instrument) names=1 ;;
            'visit note':*) if [[ $word == -* ]]; then words='--instrument --day --who --strings --gauges --fitted --temperature --humidity --done --note --record --help'; fi ;;
            'visit moved':--instrument) names=1 ;;
            'visit moved':--toward) words='tail nut' ;;
            'visit moved':*) if [[ $word == -* ]]; then words='--instrument --toward --turns --by --note --record --help'; fi ;;
            'visit list':--instrument) names=1 ;;
            'visit list':*) if [[ $word == -* ]]; then words='--instrument --json --record --help'; fi ;;
            'visit show':--instrument) names=1 ;;
            'visit show':--units) words='mm inch' ;;
            'visit show':*) if [[ $word == -* ]]; then words='--instrument --visit --units --json --record --help'; fi ;;
            'measure':--instrument) names=1 ;;
            'measure':*) if [[ $word == -* ]]; then words='--instrument --held --read-at --capo --string --pickup --tool --note --yes --record --help'; fi ;;
            'visit remove':--instrument) names=1 ;;
            'visit remove':*) if [[ $word == -* ]]; then words='--instrument --visit --yes --record --help'; fi ;;
            'visit restore':--instrument) names=1 ;;
            'visit restore':*) if [[ $word == -* ]]; then words='--instrument --visit --record --help'; fi ;;
            'visit end':--instrument) names=1 ;;
            'visit end':*) if [[ $word == -* ]]; then words='--instrument --day --who --strings --gauges --fitted --temperature --humidity --done --note --record --help'; fi ;;
            'compare':--instrument) names=1 ;;
            'compare':--units) words='mm inch' ;;
            'compare':*) if [[ $word == -* ]]; then words='--instrument --visits --units --json --record --help'; fi ;;
            'history':--instrument) names=1 ;;
            'history':*) if [[ $word == -* ]]; then words='--instrument --string --json --record --help'; fi ;;
            'sheet':--units) words='mm inch' ;;
            'sheet':*) if [[ $word == -* ]]; then words='--visit --output --svg --units --record --help'; else names=1; fi ;;
            'export':--instrument) names=1 ;;
            'export':--csv) words='readings measurements surveys' ;;
            'export':*) if [[ $word == -* ]]; then words='--instrument --csv --output --record --help'; fi ;;
            'import':*) if [[ $word == -* ]]; then words='--record --help'; fi ;;
        esac
    fi
    if [[ $names ]]; then
        # What was typed of a name may begin with a quote; what is offered is fit to be typed.
        local name plain=${word#[\'\"]}
        while IFS= read -r name; do
            if [[ $name == "${plain//\\/}"* ]]; then COMPREPLY+=("$(printf %q "$name")"); fi
        done < <(midspan instrument list --names 2>/dev/null)
        return
    fi
    # shellcheck disable=SC2207  # no word of ours holds a blank
    COMPREPLY=($(compgen -W "$words" -- "$word"))
}
# Where nothing fits, a file is meant.
complete -o default -F _midspan midspan
