#!/usr/bin/env bash
# Looks at report pages as a browser and two HTML validators do. For contributors; needs Node with npm, Java, Chromium and pdftotext (poppler). Run from the project's top folder:
#   tests/pages/check.sh                      makes a page of each command and checks them all
#   tests/pages/check.sh output/*/*/report.html
# Checked: no rule of html-validate (recommended, a11y) and none of the Nu HTML checker is broken; Chromium reports no error, violation of the policy or request to elsewhere; the page prints to
# PDF, and a long table has its header on every sheet; nothing, and no figure, is wider than a screen of 1280 or of 390 pixels; it is whole within a second. Screenshots and PDFs stay in the folder that is named at the end: look at them.
set -u
here=$(cd "$(dirname "$0")" && pwd)
out=${CURESIM_PAGES:-$(mktemp -d)}
mkdir -p "$out"
browser=$(command -v chromium || command -v chromium-browser || command -v google-chrome) || { echo "no Chromium found"; exit 2; }
[ -d "$out/node_modules/vnu-jar" ] || npm install --silent --no-audit --no-fund --prefix "$out" html-validate@10 ws@8 vnu-jar >/dev/null || exit 2
command -v pdftotext >/dev/null || { echo "no pdftotext found"; exit 2; }

if [ $# -eq 0 ]; then
  tool="dotnet run -c Release --project src/CureSim.Cli --"
  $tool run scenarios/quick.yaml --quiet --out "$out/run" || exit 2
  $tool interval scenarios/check-interval.yaml --lifetimes 100 --quiet --out "$out/interval" || exit 2
  $tool compare scenarios/hub-bond-lamp.yaml scenarios/hub-bond-led.yaml --lifetimes 10 --quiet --out "$out/compare" || exit 2
  $tool plan scenarios/qualification.yaml --lifetimes 100 --quiet --out "$out/plan" || exit 2
  $tool plan --quiet --out "$out/tables" || exit 2
  $tool ownership scenarios/own-lamp.yaml scenarios/own-led.yaml --lifetimes 3 --quiet --out "$out/ownership" || exit 2
  $tool ownership scenarios/sites-lamp.yaml scenarios/sites-led.yaml --sites 1..3 --lifetimes 40 --quiet --out "$out/sites" || exit 2
  $tool window scenarios/process-window.yaml --lifetimes 10 --set window_study.nodes=5 --quiet --out "$out/window" || exit 2
  $tool window --from-study scenarios/dose-ladder.csv --at-least "18 N" --quiet --out "$out/ladder" || exit 2
  $tool drivers scenarios/quick.yaml --lifetimes 64 --quiet --out "$out/drivers" || exit 2
  $tool fit scenarios/samples/emitter-log.csv --quiet --out "$out/fit" || exit 2
  $tool time-left scenarios/running-cell.yaml scenarios/samples/running-cell-log.csv --lifetimes 200 --quiet --out "$out/time-left" || exit 2
  $tool make-log scenarios/quick.yaml --lifetime 3 --quiet --out "$out/make-log" || exit 2
  $tool self-check --quiet --out "$out/self-check" >/dev/null || exit 2
  $tool capability scenarios/samples/hub-bond-dose.csv --lower "5 J/cm2" --upper "11 J/cm2" --group setup --quiet --out "$out/capability" || exit 2
  $tool trace scenarios/quick.yaml --lifetime 3 --quiet --out "$out/trace" || exit 2
  $tool run scenarios/quick.yaml --lifetimes 8 --quiet --out "$out/names" --set 'name="</title><script>alert(1)</script> & \"q\" WWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWW 測試"' || exit 2
  $tool report "$out/run" "$out/interval" "$out/plan" --quiet --out "$out/dossier" || exit 2
  set -- "$out"/*/report.html "$out/window/protocol.html" "$out/self-check/self-check.html"
fi

bad=0
java -jar "$out/node_modules/vnu-jar/build/dist/vnu.jar" --errors-only "$@" || bad=1
(cd "$out" && npx html-validate -c "$here/html-validate.json" "$@") || bad=1
for page in "$@"; do
  name=$(basename "$(dirname "$page")")
  case "$page" in */report.html) ;; *) name=$(basename "$page" .html) ;; esac
  url="file://$(cd "$(dirname "$page")" && pwd)/$(basename "$page")"
  bytes=$(stat -c %s "$page")
  [ "$bytes" -le 3145728 ] || { echo "$name: $bytes bytes, more than 3 MB"; bad=1; }
  (cd "$out" && BROWSER="$browser" node "$here/look.mjs" "$url" "$out/$name") || bad=1

  # A table of inputs is longer than a sheet: its header stands on each.
  rows=$(grep -c 'class="origin"' "$page")
  if [ "$rows" -gt 60 ] && [ "$(pdftotext -layout "$out/$name-a4.pdf" - | grep -c 'Key in the scenario')" -lt 3 ]; then
    echo "$name: the header of a long table is not repeated in print"; bad=1
  fi
done
echo "pictures and PDFs: $out"
exit $bad
