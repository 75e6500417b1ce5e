#!/usr/bin/env bash
# Makes the pictures that README and docs show, from the shipped scenarios. Run from the project's top folder.
set -eu
out=$(mktemp -d)
dotnet run -c Release --project src/CureSim.Cli -- run scenarios/quick.yaml --quiet --out "$out/quick"
cp "$out/quick/plots/dose_histogram.png" docs/pictures/quick-dose-histogram.png
cp "$out/quick/plots/state_index_over_time.png" docs/pictures/quick-state-index.png
cp "$out/quick/plots/causes_of_requalification.png" docs/pictures/quick-causes.png
dotnet run -c Release --project src/CureSim.Cli -- plan scenarios/qualification.yaml --quiet --out "$out/plan"
cp "$out/plan/plots/setups_1_success_run.png" docs/pictures/assurance-setups.png
cp "$out/plan/plots/operating_characteristic_1_success_run.png" docs/pictures/assurance-curve.png
dotnet run -c Release --project src/CureSim.Cli -- interval scenarios/check-interval.yaml --quiet --out "$out/interval"
cp "$out/interval/plots/cost_by_interval.png" docs/pictures/interval-cost.png
cp "$out/interval/plots/reliability_by_interval.png" docs/pictures/interval-reliability.png
cp "$out/interval/plots/interval_by_adjust_limit.png" docs/pictures/interval-adjust-limit.png
dotnet run -c Release --project src/CureSim.Cli -- drivers scenarios/check-interval.yaml --quiet --out "$out/drivers"
cp "$out/drivers/plots/what_if.png" docs/pictures/drivers-what-if.png
cp "$out/drivers/plots/dose_by_quantity.png" docs/pictures/drivers-quantities.png
cp "$out/drivers/plots/dose_by_level.png" docs/pictures/drivers-levels.png
dotnet run -c Release --project src/CureSim.Cli -- drivers scenarios/fading-leds.yaml --quiet --out "$out/fading"
cp "$out/fading/plots/effect_time_to_requalify_1.png" docs/pictures/drivers-effect.png
dotnet run -c Release --project src/CureSim.Cli -- ownership scenarios/own-lamp.yaml scenarios/own-led.yaml --quiet --out "$out/ownership"
cp "$out/ownership/plots/difference.png" docs/pictures/ownership-difference.png
cp "$out/ownership/plots/breakdown.png" docs/pictures/ownership-breakdown.png
cp "$out/ownership/plots/what_would_turn_it.png" docs/pictures/ownership-what-if.png
dotnet run -c Release --project src/CureSim.Cli -- ownership scenarios/sites-lamp.yaml scenarios/sites-led.yaml --sites 1..8 --quiet --out "$out/sites"
cp "$out/sites/plots/cost_by_sites.png" docs/pictures/ownership-sites.png
dotnet run -c Release --project src/CureSim.Cli -- window scenarios/process-window.yaml --quiet --out "$out/window"
cp "$out/window/plots/window_map.png" docs/pictures/window-map.png
cp "$out/window/plots/window_edges.png" docs/pictures/window-edges.png
cp "$out/window/plots/margins_up.png" docs/pictures/window-margins.png
dotnet run -c Release --project src/CureSim.Cli -- window --from-study scenarios/dose-ladder.csv --at-least "18 N" --quiet --out "$out/ladder"
cp "$out/ladder/plots/ladder.png" docs/pictures/window-ladder.png
dotnet run -c Release --project src/CureSim.Cli -- fit scenarios/samples/emitter-log.csv --scenario scenarios/emitter-log.yaml --quiet --out "$out/fit"
cp "$out/fit/plots/output_and_fit.png" docs/pictures/fit-output.png
cp "$out/fit/plots/residuals.png" docs/pictures/fit-residuals.png
cp "$out/fit/plots/predictive_check.png" docs/pictures/fit-predictive.png
dotnet run -c Release --project src/CureSim.Cli -- time-left scenarios/running-cell.yaml scenarios/samples/running-cell-log.csv --quiet --out "$out/time-left"
cp "$out/time-left/plots/time_left.png" docs/pictures/time-left.png
cp "$out/interval/plots/nonconforming_by_interval.png" docs/pictures/interval-nonconforming.png
dotnet run -c Release --project src/CureSim.Cli -- compare scenarios/hub-bond-lamp.yaml scenarios/hub-bond-led.yaml --lifetimes 100 --quiet --out "$out/compare"
cp "$out/compare/plots/state_index_over_time.png" docs/pictures/compare-state-index.png
browser=$(command -v chromium || command -v chromium-browser || command -v google-chrome || true)
if [ -n "$browser" ]; then
  "$browser" --headless --no-sandbox --disable-gpu --hide-scrollbars --window-size=1280,1180 --screenshot=docs/pictures/report-page.png "file://$out/quick/report.html" 2>/dev/null
else
  echo "no Chromium: report-page.png is left as it is"
fi
rm -rf "$out"
