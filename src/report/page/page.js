// Moves the boat, the weather and the read-outs of a page that is whole without
// it. All figures come from the page itself; nothing is fetched.
(function () {
  "use strict";
  var figures = JSON.parse(document.getElementById("figures").textContent);
  var samples = figures.samples, frames = figures.frames;
  ["t", "x", "y", "deck", "flags", "light"].forEach(function (name, i) {
    samples[name] = samples.places.map(function (place) { return place[i]; });
  });
  var STEP_S = 1800, LEAP_S = 6 * 3600;
  var WIDTH = 1200, HEIGHT = 800;
  var LOOK_PX = 0.85; // size of a unit of signs and letters on the screen
  var SMALL_PX = 560; // a narrower chart has room for a third of the barbs
  var PRINT_LOOK = 1.5; // on paper the chart is 18 cm wide
  var NEAREST = 24;

  var chart = d3.select("#chart"), view = d3.select("#view");
  var slider = d3.select("#time");
  var state = { t: 0, near: 1 };

  // --- the boat at a time ----------------------------------------------------

  function turn(from, to) {
    return ((to - from + 540) % 360 + 360) % 360 - 180;
  }

  // Numbers by proportion, angles the shorter way, unknown stays unknown.
  var numbers = ["x", "y", "lat", "tws", "aws", "stw", "sog", "roll", "gust",
    "wave", "period"];
  var angles = ["lon", "head", "twd", "twa", "awa", "wavefrom"];
  if (samples.mag) angles.push("mag");

  function at(t) {
    var i = Math.min(Math.max(d3.bisectRight(samples.t, t) - 1, 0),
      samples.t.length - 2);
    var part = (t - samples.t[i]) / (samples.t[i + 1] - samples.t[i]);
    var last = t >= samples.t[i + 1] ? i + 1 : i;
    var boat = { deck: samples.deck[last], flags: samples.flags[last],
      light: samples.light[last] };
    numbers.forEach(function (name) {
      var a = samples[name][i], b = samples[name][i + 1];
      boat[name] = a === null || b === null ? null : a + part * (b - a);
    });
    angles.forEach(function (name) {
      var a = samples[name][i], b = samples[name][i + 1];
      boat[name] = a === null || b === null ? null : a + part * turn(a, b);
    });
    boat.lon = turn(0, boat.lon);
    return boat;
  }

  // --- words -----------------------------------------------------------------

  var days = ["Sun", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat"];
  var months = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep",
    "Oct", "Nov", "Dec"];
  var lights = ["day", "twilight", "night"];

  function two(number) { return (number < 10 ? "0" : "") + number; }

  function time(t) {
    var minutes = Math.round((figures.depart + t + figures.zone_s) / 60);
    var date = new Date(minutes * 60000);
    return days[date.getUTCDay()] + " " + date.getUTCDate() + " " +
      months[date.getUTCMonth()] + " " + date.getUTCFullYear() + " " +
      two(date.getUTCHours()) + ":" + two(date.getUTCMinutes()) + " " +
      figures.zone;
  }

  function degrees(angle) {
    var whole = (Math.round(angle) % 360 + 360) % 360;
    return (whole < 10 ? "00" : whole < 100 ? "0" : "") + whole + "\u00b0";
  }

  function coordinate(angle, width, signs) {
    var hundredths = Math.round(Math.abs(angle) * 6000);
    var whole = String(Math.floor(hundredths / 6000));
    while (whole.length < width) whole = "0" + whole;
    var minutes = (hundredths % 6000 / 100).toFixed(2);
    return whole + " " + (minutes.length < 5 ? "0" : "") + minutes + " " +
      signs[angle < 0 ? 1 : 0];
  }

  function steer(boat) {
    var words = degrees(boat.head) + " true";
    if (!samples.mag) return words;
    return words + ", " + (boat.mag === null ? "magnetic not known" :
      degrees(boat.mag) + " magnetic");
  }

  function side(angle) { return angle >= 0 ? "starboard" : "port"; }

  function gust(boat) {
    if (boat.gust === null) return "gust not known";
    return "gust " + boat.gust.toFixed(0) + " kn" +
      (boat.flags & 4 ? " (estimated)" : "");
  }

  function sea(boat) {
    if (boat.wave === null) return "not known";
    return boat.wave.toFixed(1) + " m, " + boat.period.toFixed(0) +
      " s, from " + degrees(boat.wavefrom) +
      (boat.flags & 8 ? ", estimated" : "");
  }

  function roll(boat) {
    if (boat.roll < 0.5) return "under 1 deg rms";
    return boat.roll.toFixed(0) + " deg rms: often " +
      (2 * boat.roll).toFixed(0) + ", at times " + (3 * boat.roll).toFixed(0) + " deg";
  }

  function trust(t, boat) {
    if (boat.flags & 2) return "a guess, beyond the forecast";
    return t <= figures.good ? "good" : t <= figures.fair ? "fair" : "guess";
  }

  // --- showing ---------------------------------------------------------------

  function put(id, text) { d3.select("#" + id).text(text); }

  function showReadings(t, boat) {
    var deck = figures.decks[boat.deck];
    put("at-name", t <= 0 ? "At departure" :
      t >= figures.elapsed ? "At the end" : "At this time");
    put("at-time", time(t));
    put("at-place", coordinate(boat.lat, 2, "NS") + "  " +
      coordinate(boat.lon, 3, "EW"));
    d3.select("#at-rig .flag").attr("class", "flag " + deck[1]).text(deck[2]);
    d3.select("#at-rig span:last-child").text(deck[0] +
      (boat.flags & 1 ? ", hands at work" : ""));
    put("at-steer", steer(boat));
    put("at-wind", boat.tws.toFixed(0) + " kn from " + degrees(boat.twd) +
      ", " + gust(boat));
    put("at-apparent", Math.abs(boat.awa).toFixed(0) + "\u00b0 on the " +
      side(boat.awa) + " side, " + boat.aws.toFixed(0) + " kn");
    put("at-sea", sea(boat));
    put("at-roll", roll(boat));
    put("at-speed", boat.stw.toFixed(1) + " kn, over the ground " +
      boat.sog.toFixed(1) + " kn");
    put("at-light", lights[boat.light] + "; forecast: " + trust(t, boat));
  }

  function showBoat(boat) {
    d3.select("#boat-here .at").attr("transform",
      "translate(" + boat.x.toFixed(2) + " " + boat.y.toFixed(2) + ")");
    d3.select("#boat-here use").attr("transform",
      "rotate(" + boat.head.toFixed(0) + ")");
  }

  function showWeather(t) {
    var nearest = Math.min(Math.round(t / (frames.length > 1 ?
      frames[1].t - frames[0].t : 1)), frames.length - 1);
    if (state.frame === nearest) return;
    state.frame = nearest;
    var frame = frames[nearest];
    d3.select("#night").attr("d", frame.night);
    put("weather-time", time(frame.t) +
      (frame.beyond ? ", beyond the forecast: a guess" : ""));
    view.selectAll(".spot").data(frame.barb).each(function (barb, i) {
      var spot = d3.select(this), wave = frame.wave[i];
      spot.select(".wind")
        .attr("visibility", barb === null ? "hidden" : null)
        .attr("href", "#" + figures.sides[i] + (barb || 0))
        .attr("transform", "rotate(" + (frame.from[i] || 0) + ")");
      var state = spot.select(".sea-state")
        .attr("visibility", wave === null ? "hidden" : null);
      state.select("use")
        .attr("transform", "rotate(" + (frame.wavefrom[i] || 0) + ")");
      var from = frame.wavefrom[i] || 0;
      state.select("text").attr("y", from > 90 && from < 270 ? 20 : -8)
        .text(wave === null ? "" : (wave / 10).toFixed(1) + " m");
    });
  }

  function showWork(t) {
    var next = figures.works.filter(function (work) { return work.t >= t; })[0];
    d3.selectAll(".works li").classed("past", function () {
      var name = this.id.slice("work-".length);
      return figures.works.some(function (work) {
        return work.name === name && work.t < t;
      });
    });
    var name = next ? next.name : "";
    if (state.next === name) return;
    state.next = name;
    var box = document.getElementById("next");
    var from = next && document.getElementById("work-" + name);
    while (box.firstChild) box.removeChild(box.firstChild);
    if (from)
      Array.prototype.forEach.call(from.childNodes, function (node) {
        box.appendChild(node.cloneNode(true));
      });
    else
      d3.select(box).append("h3").text("Nothing more: nobody goes forward");
  }

  function showTable(t) {
    var leg = d3.bisectRight(figures.legs, t) - 1;
    d3.selectAll(".legs tbody tr").classed("here", function (unused, i) {
      return i === leg;
    });
  }

  function showCursor(t) {
    var part = t / figures.elapsed;
    d3.selectAll("path.now").attr("d",
      "M" + (1000 * part).toFixed(1) + " 0V100");
    d3.selectAll("line.now").attr("x1", 100 * part + "%")
      .attr("x2", 100 * part + "%");
  }

  function show(t) {
    t = Math.min(Math.max(t, 0), figures.elapsed);
    state.t = t;
    var boat = at(t);
    showReadings(t, boat);
    showBoat(boat);
    if (frames.length > 0) showWeather(t);
    showWork(t);
    showTable(t);
    showCursor(t);
    slider.property("value", t).attr("aria-valuetext", time(t));
  }

  // --- time ------------------------------------------------------------------

  // To the next whole step of the clock.
  function step(by) {
    var away = Math.abs(by), clock = figures.depart + figures.zone_s + state.t;
    var next = by > 0 ? Math.floor(clock / away) + 1 :
      Math.ceil(clock / away) - 1;
    show(next * away - figures.depart - figures.zone_s);
  }

  function toWork(ahead) {
    var times = figures.works.map(function (work) { return work.t; });
    var found = times.filter(function (t) {
      return ahead ? t > state.t + 1 : t < state.t - 1;
    });
    if (found.length > 0) show(ahead ? found[0] : found[found.length - 1]);
  }

  var keys = {
    ArrowRight: function () { step(STEP_S); },
    ArrowLeft: function () { step(-STEP_S); },
    ArrowUp: function () { step(LEAP_S); },
    ArrowDown: function () { step(-LEAP_S); },
    PageUp: function () { step(LEAP_S); },
    PageDown: function () { step(-LEAP_S); },
    Home: function () { show(0); },
    End: function () { show(figures.elapsed); },
    n: function () { toWork(true); },
    b: function () { toWork(false); }
  };

  // Up, down and the like scroll the page, but on the slider and the chart.
  function isOurs(event) {
    var on = event.target.id;
    if (event.ctrlKey || event.altKey || event.metaKey) return false;
    if (on === "time" || on === "chart") return true;
    return event.target.tagName !== "INPUT" &&
      /^(ArrowLeft|ArrowRight|n|b)$/.test(event.key);
  }

  document.addEventListener("keydown", function (event) {
    if (!keys[event.key] || !isOurs(event)) return;
    event.preventDefault();
    keys[event.key]();
  });
  slider.on("input", function () { show(+this.value); });
  d3.select("#to-start").on("click", function () { show(0); });
  // By the clock of the device, while it says that the passage is under way.
  function now() { return Date.now() / 1000 - figures.depart; }
  d3.select("#to-now")
    .attr("hidden", now() < 0 || now() > figures.elapsed ? "" : null)
    .on("click", function () { show(Math.round(now())); });
  d3.select("#work-before").on("click", function () { toWork(false); });
  d3.select("#work-after").on("click", function () { toWork(true); });

  function fromStrip() {
    var box = this.getBoundingClientRect();
    show((d3.event.clientX - box.left) / box.width * figures.elapsed);
  }
  d3.selectAll(".strip .plot, .rigs").on("click", fromStrip)
    .on("mousemove", function () {
      if (d3.event.buttons === 1) fromStrip.call(this);
    });

  // --- zoom ------------------------------------------------------------------

  function keepSizes(perPixel) {
    d3.selectAll("#view .fix").attr("transform",
      "scale(" + (LOOK_PX * perPixel / state.near).toFixed(4) + ")");
  }

  function fit() {
    var wide = chart.node().getBoundingClientRect().width;
    if (wide <= 0) return;
    chart.classed("small", wide < SMALL_PX);
    keepSizes(WIDTH / wide);
  }

  var zoom = d3.zoom().scaleExtent([1, NEAREST])
    .extent([[0, 0], [WIDTH, HEIGHT]])
    .translateExtent([[0, 0], [WIDTH, HEIGHT]])
    .filter(function () {
      var event = d3.event;
      if (event.type === "wheel") return event.ctrlKey || event.metaKey;
      if (event.type === "touchstart")
        return event.touches.length > 1 || state.near > 1;
      return !event.button && (state.near > 1 || event.type === "dblclick");
    })
    .on("zoom", function () {
      var shift = d3.event.transform;
      state.near = shift.k;
      chart.classed("near", shift.k > 1);
      view.attr("transform", "translate(" + shift.x.toFixed(2) + " " +
        shift.y.toFixed(2) + ") scale(" + shift.k.toFixed(4) + ")");
      fit();
    });

  function nearer(factor) {
    var boat = at(state.t);
    chart.call(zoom.scaleBy, factor);
    if (factor > 1 && state.near > 1)
      chart.call(zoom.translateTo, boat.x, boat.y);
  }

  if (!chart.empty()) {
    chart.call(zoom);
    d3.select(".zoom").attr("hidden", null);
    d3.select("#nearer").on("click", function () { nearer(2); });
    d3.select("#farther").on("click", function () { nearer(0.5); });
    d3.select("#whole").on("click", function () {
      chart.call(zoom.transform, d3.zoomIdentity);
    });
    window.addEventListener("resize", fit);
    window.addEventListener("beforeprint", function () {
      keepSizes(PRINT_LOOK);
    });
    window.addEventListener("afterprint", fit);
    fit();
  }
  d3.select("#steering").attr("hidden", null);
  show(0);
})();
