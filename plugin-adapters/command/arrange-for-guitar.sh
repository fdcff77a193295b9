#!/bin/sh
# Arranges one score for guitar: file in, guitar score out. For "open with" menus, menus of external tools and
# scripts of file managers. README.md beside this file says how to set it up.
#
#   arrange-for-guitar.sh [--output FILE] [--compressed] [--open] [--open-with PROGRAM]
#                         [--service URL] INPUT [NAME=VALUE]...
#
# NAME=VALUE are options of the arrangement, such as texture=full or "tuning=D2 A2 D3 G3 B3 E4".
#
#   UNDERVOICE_SERVICE   as --service: a running service, asked first
#   UNDERVOICE_TOKEN     what that service wants to know
#   UNDERVOICE_NODE      the program "node", where it is not found by itself
#   UNDERVOICE_MAIN      Undervoice's dist/cli/main.js, likewise
#
# Ends with the exit status of "undervoice arrange"; 69 where there is nothing to arrange with.

set -u

WRONGLY_ASKED=2
FILE_TROUBLE=3
NOTHING_TO_ARRANGE_WITH=69
SECONDS_TO_WAIT=120

wrongly_asked() {
  printf 'arrange-for-guitar: %s\n' "$1" >&2
  exit "$WRONGLY_ASKED"
}

file_trouble() {
  printf 'arrange-for-guitar: %s\n' "$1" >&2
  exit "$FILE_TROUBLE"
}

# ---- what is asked ----

input=
output=
extension=.musicxml
opens=no
opener=
service=${UNDERVOICE_SERVICE:-}
query=

# Every byte as %XX, so that no sign needs a rule of its own.
percent_encoded() {
  printf '%s' "$1" | od -An -v -tx1 | tr -d ' \n' | sed 's/../%&/g'
}

# Words are taken from the front of the list; the options of the command line are gathered at its end.
left=$#
while [ "$left" -gt 0 ]; do
  word=$1
  shift
  left=$((left - 1))
  if [ -n "$input" ]; then
    case $word in
      [a-z]*=*) ;;
      *) wrongly_asked "after INPUT there are options as NAME=VALUE, not \"$word\"" ;;
    esac
    name=${word%%=*}
    value=${word#*=}
    flag=$(printf '%s' "$name" | sed 's/[A-Z]/-&/g' | tr '[:upper:]' '[:lower:]')
    case $value in
      true) set -- "$@" "--$flag" ;;
      false) ;;
      *) set -- "$@" "--$flag=$value" ;;
    esac
    query="$query${query:+&}$(percent_encoded "$name")=$(percent_encoded "$value")"
    continue
  fi
  case $word in
    --output | --open-with | --service)
      [ "$left" -gt 0 ] || wrongly_asked "$word lacks its value"
      case $word in
        --output) output=$1 ;;
        --open-with) opens=yes opener=$1 ;;
        --service) service=$1 ;;
      esac
      shift
      left=$((left - 1))
      ;;
    --compressed) extension=.mxl ;;
    --open) opens=yes ;;
    -*) wrongly_asked "there is no $word" ;;
    *) input=$word ;;
  esac
done

[ -n "$input" ] || wrongly_asked "which score? arrange-for-guitar.sh INPUT"
[ -f "$input" ] || file_trouble "$input: there is no such file"

input_name=$(basename -- "$input")
folder=$(dirname -- "$input")
if [ -z "$output" ]; then
  output=$folder/${input_name%.*}-guitar$extension
else
  folder=$(dirname -- "$output")
fi
# A name that starts with a dash would be taken for a flag.
case $output in /* | ./* | ../*) ;; *) output=./$output ;; esac
note=$folder/$input_name.note.txt
case $note in /* | ./* | ../*) ;; *) note=./$note ;; esac
[ ! -d "$output" ] || file_trouble "$output: it is a folder"
case $output in *.[mM][xX][lL]) extension=.mxl ;; *) extension=.musicxml ;; esac

# In the folder of the output, so that the finished score only has to be renamed.
work=$(mktemp -d "$folder/.undervoice-XXXXXX") || file_trouble "$folder: no file can be written there"
trap 'rm -rf "$work"' EXIT
trap 'exit 130' HUP INT TERM
score=$work/score$extension

# ---- the two ways ----

# Answers 0: arranged. 1: refused, and why stands in $work/why. 75: nobody there, or busy.
ask_service() {
  command -v curl >/dev/null 2>&1 || return 75
  media_type=application/vnd.recordare.musicxml+xml
  [ "$extension" = .musicxml ] || media_type=application/vnd.recordare.musicxml
  # In a file, since other people on the machine can see a command line.
  {
    printf 'Content-Type: application/octet-stream\nAccept: %s\n' "$media_type"
    [ -z "${UNDERVOICE_TOKEN:-}" ] || printf 'Authorization: Bearer %s\n' "$UNDERVOICE_TOKEN"
  } >"$work/headers"
  status=$(curl --silent --noproxy '*' --globoff --max-time "$SECONDS_TO_WAIT" --header "@$work/headers" \
    --data-binary "@$input" --output "$work/answer" --write-out '%{http_code}' \
    "${service%/}/arrangements${query:+?$query}") || return 75
  case $status in
    200) mv "$work/answer" "$score" ;;
    503) return 75 ;;
    *)
      findings_in "$work/answer" >"$work/why"
      [ -s "$work/why" ] || printf '%s: the service answered with status %s\n' "$input_name" "$status" >"$work/why"
      [ "$status" != 400 ] || return "$WRONGLY_ASKED"
      return 1
      ;;
  esac
}

# Findings of a refusal (RFC 9457) as lines. The service sets a field on each line.
findings_in() {
  awk -v file="$input_name" '
    function text(line) {
      sub(/^ *"[a-z]*": "?/, "", line)
      sub(/"?,?$/, "", line)
      gsub(/\\"/, "\"", line)
      gsub(/\\n/, " ", line)
      gsub(/\\\\/, "\\", line)
      return line
    }
    /^    \{/ { part = measure = label = beat = row = column = severity = message = hint = "" }
    /^ +"part": / { part = ", part " text($0) }
    /^ +"measure": / { measure = ", measure " text($0) }
    /^ +"measureLabel": / { sub(/Label/, ""); label = " (numbered " text($0) ")" }
    /^ +"beat": / { beat = ", beat " text($0) }
    /^ +"line": / { row = ", line " text($0) }
    /^ +"column": / { column = ", column " text($0) }
    /^ +"severity": / { severity = text($0) }
    /^ +"message": / { message = text($0) }
    /^ +"hint": / { hint = " " text($0) }
    /^    \}/ { print file part row column measure label beat ": " severity ": " message hint }
  ' "$1"
}

# Answers with the exit status of "undervoice arrange"; why stands in $work/why. 69: it is not here.
run_command() {
  main=${UNDERVOICE_MAIN:-}
  here=$(dirname -- "$0")
  if [ -z "$main" ] && [ -f "$here/../../dist/cli/main.js" ]; then main=$here/../../dist/cli/main.js; fi
  if [ -n "$main" ]; then
    set -- "${UNDERVOICE_NODE:-node}" "$main" arrange --quiet --output "$score" "$@" -- "$input"
  else
    set -- undervoice arrange --quiet --output "$score" "$@" -- "$input"
  fi
  command -v "$1" >/dev/null 2>&1 || return "$NOTHING_TO_ARRANGE_WITH"
  "$@" 2>"$work/why" >/dev/null
}

# ---- the score, or a note in its place ----

show() {
  if [ -n "$opener" ] && [ "$1" = "$output" ]; then
    case $opener in
      *.app) open -a "$opener" "$1" ;;
      *) "$opener" "$1" ;;
    esac
  elif [ "$(uname -s)" = Darwin ]; then
    open "$1"
  else
    xdg-open "$1"
  fi
}

# A guitar score that is there and differs may have been worked on: it is kept under another name.
keep_earlier() {
  [ -e "$output" ] && ! cmp -s "$output" "$score" || return 0
  stem=${output%.*}
  number=1
  while [ -e "${stem%-guitar}-earlier-$number-guitar$extension" ]; do number=$((number + 1)); done
  earlier=${stem%-guitar}-earlier-$number-guitar$extension
  mv -- "$output" "$earlier" || return 1
  printf 'Kept: %s\n' "$earlier"
}

status=75
if [ -n "$service" ]; then
  ask_service
  status=$?
fi
if [ "$status" -eq 75 ]; then
  run_command "$@"
  status=$?
  if [ "$status" -eq "$NOTHING_TO_ARRANGE_WITH" ]; then
    printf 'arrange-for-guitar: %s\n' "neither a service answers nor is the program \"undervoice\" found; see the README" \
      >"$work/why"
  fi
fi

if [ "$status" -eq 0 ]; then
  { keep_earlier && mv -f -- "$score" "$output"; } || file_trouble "$output: cannot be written"
  rm -f -- "$note"
  printf 'Written: %s\n' "$output"
  [ "$opens" = no ] || show "$output"
  exit
fi

cat "$work/why" >&2
{
  printf 'Undervoice did not arrange %s.\r\n\r\n' "$input_name"
  sed "s/\$/$(printf '\r')/" "$work/why"
  printf '\r\nThe score itself was not touched. Arrange it again when this is mended; the note then goes away.\r\n'
} >"$work/note" && mv -f -- "$work/note" "$note"
# From a menu or a file manager nobody sees a terminal.
[ "$opens" = no ] || show "$note" || true
exit "$status"
