// Writes a passage with magnetic courses whose names try to be more than names:
// hostile.ini and what it needs, into the folder given. Weather and boat are
// those of a sample.
"use strict";
const fs = require("fs");
const path = require("path");

const folder = process.argv[2];
const samples = path.resolve("grib-samples");
const polars = path.resolve("polars");

const names = {
  passage: "<img src=x onerror=alert(1)> ${7*7} `back` ' \" &amp;",
  boat: "\"><svg onload=1></svg></script><script>alert(2)</script>",
  zone: "</title><script>alert(3)</script>\u{1F600} é",
  port: "javascript:alert(4)<b>",
};

const boat = fs.readFileSync(path.join(polars, "heron-9.ini"), "utf8")
  .replace(/^name *=.*$/m, "name = " + names.boat)
  .replace(/^(stowed|spar) *= *(\S+\.\S+)$/gm,
    (all, key, file) => key + " = " + path.join(polars, file));
fs.writeFileSync(path.join(folder, "hostile-boat.ini"), boat);

const corner = (lon, lat) => [lon, lat];
fs.writeFileSync(path.join(folder, "hostile.geojson"), JSON.stringify({
  type: "FeatureCollection",
  features: [{
    type: "Feature",
    properties: { name: names.zone },
    geometry: {
      type: "Polygon",
      coordinates: [[corner(-9.75, 38.2), corner(-9.55, 38.2),
        corner(-9.55, 38.4), corner(-9.75, 38.4), corner(-9.75, 38.2)]],
    },
  }],
}));

fs.writeFileSync(path.join(folder, "hostile.ini"), [
  "[passage]",
  "name = " + names.passage,
  "boat = hostile-boat.ini",
  "forecast = " + path.join(samples, "coastal-hop.grib2"),
  "zones = hostile.geojson",
  "fallback = " + names.port + " 38 00.0 N 9 40.0 W",
  "from = 39 18.0 N 9 48.0 W",
  "to = 36 51.0 N 9 24.0 W",
  "depart = 2026-06-21T04:00Z",
  "magnetic = yes",
  "",
].join("\n"));
fs.writeFileSync(path.join(folder, "names.json"), JSON.stringify(names));
