// report.html as its readers have it: in a browser, with and without its
// script, in all its colours, on paper. Argument: a folder with the plans
// demo/ and hostile/, and names.json (tests/browser/page-test makes them).
"use strict";
const assert = require("assert");
const crypto = require("crypto");
const fs = require("fs");
const path = require("path");
const { execFileSync } = require("child_process");
const { chromium } = require("playwright-core");

const folder = process.argv[2];
const demo = path.join(folder, "demo", "report.html");
const hostile = path.join(folder, "hostile", "report.html");
const plan = JSON.parse(
  fs.readFileSync(path.join(folder, "demo", "plan.json"), "utf8"));
const names = JSON.parse(
  fs.readFileSync(path.join(folder, "names.json"), "utf8"));

const PHONE = { width: 390, height: 844 };
const TABLET = { width: 820, height: 1180 };
const LAPTOP = { width: 1366, height: 768 };
const LOOKS = ["day", "dark", "red"];

let browser;

// A page as it was opened, and all that it asked for and complained of.
async function open(file, options) {
  const context = await browser.newContext(
    Object.assign({ viewport: LAPTOP, reducedMotion: "reduce" }, options));
  const page = await context.newPage();
  page.asked = [];
  page.told = [];
  page.on("request", (request) => page.asked.push(request.url()));
  page.on("console", (message) => page.told.push(message.text()));
  page.on("pageerror", (error) => page.told.push(String(error)));
  page.on("dialog", (dialog) => {
    page.told.push("dialog: " + dialog.message());
    dialog.dismiss();
  });
  await page.goto("file://" + file);
  return page;
}

// As a hand on the slider does.
function slide(page, seconds) {
  return page.evaluate((t) => {
    const slider = document.getElementById("time");
    slider.value = t;
    slider.dispatchEvent(new Event("input"));
  }, seconds);
}

function after(time) {
  return (Date.parse(time) - Date.parse(plan.passage.depart)) / 1000;
}

// "23 06.30 N  023 32.86 W"
function degrees(text) {
  const parts = text.trim().split(/\s+/);
  const value = (i) => (Number(parts[i]) + Number(parts[i + 1]) / 60) *
    (/[SW]/.test(parts[i + 2]) ? -1 : 1);
  return { lat: value(0), lon: value(3) };
}

function boatOnChart(page) {
  return page.evaluate(() => {
    const text = document.querySelector("#boat-here .at")
      .getAttribute("transform");
    return text.match(/-?[\d.]+/g).map(Number);
  });
}

// Corners of the route as they are drawn.
function routeOnChart(page) {
  return page.evaluate(() => {
    const numbers = document.querySelector("#route .halo")
      .getAttribute("d").match(/-?[\d.]+/g).map(Number);
    const places = [];
    for (let i = 0; i < numbers.length; i += 2)
      places.push([numbers[i], numbers[i + 1]]);
    return places;
  });
}

const tests = {
  async nothing_is_asked_for_but_the_file_itself() {
    for (const file of [demo, hostile]) {
      const page = await open(file);
      await slide(page, 40000);
      await page.click("#nearer");
      assert.deepStrictEqual(page.asked, ["file://" + file]);
      assert.deepStrictEqual(page.told, []);
    }
  },

  async no_word_of_it_leads_out() {
    const text = fs.readFileSync(demo, "utf8")
      .replace(/<script>[^]*?<\/script>/g, "");
    assert.ok(!/https?:/.test(text));
    assert.ok(!/(src|srcset|data|action|poster)="/.test(text));
    for (const target of text.matchAll(/href="([^"]*)"/g))
      assert.match(target[1], /^#/);
  },

  async the_security_line_has_the_hashes_of_style_and_scripts() {
    const text = fs.readFileSync(demo, "utf8");
    const line = text.match(/Content-Security-Policy" content="([^"]*)"/)[1];
    const hash = (part) => "'sha256-" +
      crypto.createHash("sha256").update(part).digest("base64") + "'";
    const style = text.match(/<style>([^]*?)<\/style>/)[1];
    const scripts = [...text.matchAll(/<script>([^]*?)<\/script>/g)]
      .map((found) => found[1]);
    assert.strictEqual(scripts.length, 2);
    assert.ok(line.startsWith("default-src 'none';"));
    assert.ok(line.includes("style-src " + hash(style) + ";"));
    assert.ok(line.endsWith("script-src " + scripts.map(hash).join(" ")));
  },

  async a_script_of_somebody_else_does_not_run() {
    const page = await open(demo);
    const ran = await page.evaluate(() => {
      const script = document.createElement("script");
      script.textContent = "window.ran = true";
      document.body.appendChild(script);
      return window.ran === true;
    });
    assert.strictEqual(ran, false);
    assert.match(page.told.join(), /Content Security Policy/);
  },

  async the_slider_moves_the_boat_to_where_the_plan_has_her() {
    const page = await open(demo);
    const route = await routeOnChart(page);
    assert.strictEqual(route.length, plan.legs.length + 1);
    for (let i = 0; i < plan.legs.length; i++) {
      const leg = plan.legs[i];
      await slide(page, after(leg.start));
      const at = degrees(await page.textContent("#at-place"));
      assert.ok(Math.abs(at.lat - leg.from.lat) < 0.0002, leg.start);
      assert.ok(Math.abs(at.lon - leg.from.lon) < 0.0002, leg.start);
      const [x, y] = await boatOnChart(page);
      assert.ok(Math.hypot(x - route[i][0], y - route[i][1]) < 0.1);
    }
    await slide(page, 1e9);
    const end = degrees(await page.textContent("#at-place"));
    const last = plan.legs[plan.legs.length - 1].to;
    assert.ok(Math.abs(end.lat - last.lat) < 0.0002);
    assert.ok(Math.abs(end.lon - last.lon) < 0.0002);
  },

  async the_read_outs_follow_the_leg() {
    const page = await open(demo);
    for (const leg of plan.legs.filter((each) => each.distance_nmi > 20)) {
      await slide(page, (after(leg.start) + after(leg.end)) / 2);
      const rig = await page.textContent("#at-rig");
      if (leg.spar === "stowed") assert.match(rig, /^inspar stowed/);
      else assert.match(rig, new RegExp("^[PS]spar " + leg.spar));
      const wind = (await page.textContent("#at-wind")).match(/(\d+) kn/);
      assert.ok(Math.abs(Number(wind[1]) - leg.tws_kn) < 3, leg.start);
      const side = leg.awa_deg >= 0 ? "starboard" : "port";
      if (Math.abs(leg.awa_deg) < 170)
        assert.match(await page.textContent("#at-apparent"),
          new RegExp("on the " + side + " side"));
    }
  },

  async wind_waves_and_night_follow_the_time() {
    const page = await open(demo);
    const seen = await page.evaluate(() => {
      const frames = JSON.parse(
        document.getElementById("figures").textContent).frames;
      const slider = document.getElementById("time");
      return frames.slice(0, -1).map((frame) => {
        slider.value = frame.t;
        slider.dispatchEvent(new Event("input"));
        const spots = [...document.querySelectorAll("#view .spot")];
        return {
          count: spots.length === frame.barb.length,
          wind: spots.every((spot, i) =>
            spot.querySelector(".wind").getAttribute("transform") ===
              "rotate(" + frame.from[i] + ")" &&
            spot.querySelector(".wind").getAttribute("href").slice(2) ===
              String(frame.barb[i])),
          waves: spots.every((spot, i) =>
            spot.querySelector(".sea-state text").textContent ===
              (frame.wave[i] / 10).toFixed(1) + " m"),
          night: document.getElementById("night").getAttribute("d") ===
            frame.night,
        };
      });
    });
    assert.ok(seen.length > 20);
    for (const frame of seen)
      assert.deepStrictEqual(frame,
        { count: true, wind: true, waves: true, night: true });
  },

  async the_chart_says_of_when_its_weather_is() {
    const page = await open(demo);
    const said = () => page.textContent("#weather-time");
    assert.strictEqual(await said(), await page.textContent("#at-time"));
    await slide(page, 4000); // frames stand at every third hour
    assert.match(await said(), / 06:00 UTC$/);
    await slide(page, 6000);
    assert.match(await said(), / 09:00 UTC$/);
  },

  async now_is_offered_while_the_passage_lasts() {
    const page = await open(demo);
    for (const [hours, offered] of [[-1, false], [50, true], [9999, false]]) {
      const at = Date.parse(plan.passage.depart) + hours * 3600e3;
      await page.clock.setFixedTime(at);
      await page.reload();
      assert.strictEqual(await page.isVisible("#to-now"), offered);
      if (!offered) continue;
      await page.click("#to-now");
      assert.strictEqual(await page.inputValue("#time"),
        String(hours * 3600));
    }
  },

  async keys_move_the_time() {
    const page = await open(demo);
    const value = () => page.evaluate(() =>
      Number(document.getElementById("time").value));
    await page.focus("#time");
    await page.keyboard.press("ArrowRight");
    assert.strictEqual(await value(), 1800);
    await page.keyboard.press("ArrowUp");
    assert.strictEqual(await value(), 6 * 3600);
    await page.keyboard.press("ArrowLeft");
    assert.strictEqual(await value(), 6 * 3600 - 1800);
    await page.keyboard.press("End");
    assert.strictEqual(await value(),
      after(plan.legs[plan.legs.length - 1].end));
    await page.keyboard.press("Home");
    assert.strictEqual(await value(), 0);
    const works = plan.changes.filter((change) => change.deck_work);
    for (const work of works) {
      await page.keyboard.press("n");
      assert.strictEqual(await value(), after(work.at));
    }
    assert.match(await page.getAttribute("#time", "aria-valuetext"), /UTC$/);
  },

  async everything_can_be_reached_by_the_tabulator() {
    const page = await open(demo);
    const reached = new Set();
    for (let i = 0; i < 40; i++) {
      await page.keyboard.press("Tab");
      reached.add(await page.evaluate(() =>
        document.activeElement.id || document.activeElement.tagName));
    }
    for (const id of ["look-device", "show-wind", "show-waves", "show-fronts",
      "nearer", "chart", "time", "work-after", "SUMMARY"])
      assert.ok(reached.has(id), id);
  },

  async every_work_on_deck_is_in_list_chart_and_tables() {
    const page = await open(demo);
    const works = plan.changes.filter((change) => change.deck_work);
    assert.ok(works.length > 0);
    assert.strictEqual(await page.locator(".works li").count(), works.length);
    assert.strictEqual(await page.locator("#works .work").count(),
      works.length);
    assert.strictEqual(await page.locator(".changes tbody tr").count(),
      plan.changes.length);
    assert.strictEqual(await page.locator(".changes tr.forward").count(),
      works.length);
    assert.strictEqual(await page.locator(".legs tbody tr").count(),
      plan.legs.length);
    for (let i = 0; i < works.length; i++) {
      const text = await page.locator(".works li").nth(i).textContent();
      const side = works[i].to_state.split("_")[0];
      assert.match(text.toLowerCase(),
        side === "stowed" ? /stow the spar/ : new RegExp("spar.* to " + side));
      const place = degrees(await page.locator(".works li .where").nth(i)
        .textContent());
      assert.ok(Math.abs(place.lat - works[i].position.lat) < 0.0002);
      assert.ok(Math.abs(place.lon - works[i].position.lon) < 0.0002);
    }
  },

  async what_comes_next_on_deck_goes_with_the_time() {
    const page = await open(demo);
    const works = plan.changes.filter((change) => change.deck_work);
    const next = () => page.textContent("#next h3");
    const listed = (i) => page.locator(".works li h3").nth(i).textContent();
    assert.strictEqual(await next(), await listed(0));
    await slide(page, after(works[0].at) + 1);
    assert.strictEqual(await next(), await listed(1));
    await slide(page, after(works[works.length - 1].at) + 1);
    assert.match(await next(), /^Nothing more/);
  },

  async the_chart_comes_nearer_and_goes_back() {
    const page = await open(demo);
    const shift = () => page.getAttribute("#view", "transform");
    await page.click("#nearer");
    await page.click("#nearer");
    assert.match(await shift(), /scale\(4(\.0+)?\)/);
    const box = await page.locator("#chart").boundingBox();
    const before = await shift();
    await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
    await page.mouse.down();
    await page.mouse.move(box.x + box.width / 2 + 60, box.y + box.height / 2);
    await page.mouse.up();
    assert.notStrictEqual(await shift(), before);
    await page.click("#whole");
    assert.match(await shift(), /translate\(0\.00 0\.00\) scale\(1\.0000\)/);
  },

  async all_text_stands_out_in_all_colours() {
    for (const look of LOOKS) {
      const page = await open(demo);
      await page.click("label[for=look-" + look + "]");
      await page.evaluate(() => document.querySelectorAll("details")
        .forEach((details) => { details.open = true; }));
      const weak = await page.evaluate(weakTexts, 4.5);
      assert.deepStrictEqual(weak, [], look);
    }
  },

  async red_light_has_no_other_colour() {
    const page = await open(demo);
    await page.click("label[for=look-red]");
    const others = await page.evaluate(() => {
      const found = new Set();
      for (const element of document.querySelectorAll(".page, .page *")) {
        const style = getComputedStyle(element);
        for (const colour of [style.color, style.backgroundColor, style.fill,
          style.stroke, style.borderTopColor]) {
          const parts = (colour.match(/[\d.]+/g) || []).map(Number);
          if (colour.startsWith("rgb") && parts[3] !== 0 &&
              Math.max(parts[1], parts[2]) > 0.35 * parts[0])
            found.add(colour);
        }
      }
      return [...found];
    });
    assert.deepStrictEqual(others, []);
  },

  async the_device_s_wish_for_dark_is_heard() {
    const page = await open(demo, { colorScheme: "dark" });
    const paper = () => page.evaluate(() => getComputedStyle(
      document.querySelector(".page")).backgroundColor.match(/\d+/g)
      .map(Number));
    assert.ok(Math.max(...await paper()) < 60);
    await page.click("label[for=look-day]");
    assert.ok(Math.min(...await paper()) > 200);
  },

  async hostile_names_stay_text() {
    const page = await open(hostile);
    await slide(page, 20000);
    await page.evaluate(() => document.querySelectorAll("details")
      .forEach((details) => { details.open = true; }));
    assert.strictEqual(await page.textContent("h1"), names.passage);
    assert.ok((await page.title()).startsWith(names.passage));
    assert.ok((await page.textContent(".facts")).includes(names.boat));
    assert.strictEqual(await page.textContent("#view .zone text"), names.zone);
    assert.ok((await page.textContent("#view .zone title"))
      .startsWith(names.zone));
    assert.ok((await page.locator("#view .end text").allTextContents())
      .includes(names.port));
    assert.strictEqual(await page.locator(
      "img, iframe, object, embed, link, base, [onerror], [onload], " +
      "[href^='javascript'], a:not([href^='#'])").count(), 0);
    assert.strictEqual(await page.locator("script").count(), 3);
    assert.deepStrictEqual(page.told, []);
  },

  // 1.2 degrees west off Portugal in 2026 (another program with the same model:
  // -1.16).
  async magnetic_courses_stand_beside_the_true_ones() {
    const words = /^(\d{3})° true, (\d{3})° magnetic$/;
    const still = await open(hostile, { javaScriptEnabled: false });
    const first = await still.textContent("#at-steer");
    assert.match(first, words);
    const page = await open(hostile);
    assert.strictEqual(await page.textContent("#at-steer"), first);
    for (const seconds of [20000, 40000, 60000]) {
      await slide(page, seconds);
      const steer = words.exec(await page.textContent("#at-steer"));
      const west = (steer[2] - steer[1] + 360) % 360;
      assert.ok(west === 1 || west === 2, steer[0]);
    }
    const plain = await open(demo);
    assert.match(await plain.textContent("#at-steer"), /^\d{3}° true$/);
  },

  async without_a_script_all_is_there_but_movement() {
    const page = await open(demo, { javaScriptEnabled: false });
    for (const what of ["#route .leg", "#works .work", "#view .land",
      "#view .spot", ".graticule path", ".isochrones", ".strip .line"])
      assert.ok(await page.locator(what).count() > 0, what);
    const box = await page.locator("#route .halo").boundingBox();
    assert.ok(box.width > 300 && box.height > 100);
    assert.strictEqual(await page.locator(".legs tbody tr").count(),
      plan.legs.length);
    assert.match(await page.textContent("#at-wind"), /\d+ kn from \d{3}/);
    assert.strictEqual(await page.locator("#steering").isVisible(), false);
    await page.click("label[for=look-red]");
    await page.click("label[for=show-waves]");
    assert.strictEqual(await page.locator("#view .sea-state >> visible=true")
      .count(), 0);
  },

  async the_script_begins_with_what_stands_there_already() {
    const still = await open(demo, { javaScriptEnabled: false });
    const moved = await open(demo);
    for (const id of ["at-time", "at-place", "at-rig", "at-steer", "at-wind",
      "at-apparent", "at-sea", "at-roll", "at-speed", "at-light"])
      assert.strictEqual((await moved.textContent("#" + id))
        .replace(/\s+/g, " "),
      (await still.textContent("#" + id)).replace(/\s+/g, " "), id);
  },

  async no_screen_is_too_narrow() {
    for (const viewport of [PHONE, TABLET, LAPTOP]) {
      for (const file of [demo, hostile]) {
        const page = await open(file, { viewport });
        const wide = await page.evaluate(() =>
          document.documentElement.scrollWidth);
        assert.ok(wide <= viewport.width, viewport.width + ": " + wide);
      }
    }
  },

  async what_matters_is_large_and_at_the_top() {
    for (const viewport of [PHONE, TABLET, LAPTOP]) {
      const page = await open(demo, { viewport });
      for (const what of ["#next h3", "#next .when", "#next .where",
        "#next .flag"]) {
        const box = await page.locator(what).boundingBox();
        assert.ok(box.y + box.height < viewport.height, what);
        const size = await page.locator(what).evaluate((element) =>
          parseFloat(getComputedStyle(element).fontSize));
        assert.ok(size >= 20, what + ": " + size);
      }
    }
  },

  async paper_has_one_sheet_with_the_chart_then_tables() {
    for (const format of ["A4", "Letter"]) {
      const page = await open(demo);
      const file = path.join(folder, format + ".pdf");
      await page.pdf({ path: file, format });
      const pages = Number(execFileSync("pdfinfo", [file], { encoding: "utf8" })
        .match(/Pages: *(\d+)/)[1]);
      const sheet = (i) => execFileSync("pdftotext",
        ["-layout", "-f", String(i), "-l", String(i), file, "-"],
        { encoding: "utf8" });
      const sheets = [];
      for (let i = 1; i <= pages; i++) sheets.push(sheet(i));
      assert.match(sheets[0], /Next on deck/);
      assert.match(sheets[0], /finish/);
      assert.match(sheets[1], /Along the way/);
      const rows = /^ *(W\d{3}|SET1|STOW2) +\d\d /m;
      const heads = /^ *Point +UTC/m;
      const withLegs = sheets.filter((text) => rows.test(text));
      assert.ok(withLegs.length >= 1);
      for (const text of withLegs) assert.match(text, heads);
      const legs = Array.from(
        sheets.join("\n").matchAll(/^ *(W\d{3}) +\d\d /gm), (row) => row[1]);
      assert.strictEqual(new Set(legs).size, legs.length);
      assert.ok(!sheets.slice(1).some((text) => /Keys: left/.test(text)));
      assert.ok(pages >= 4 && pages <= 6, format + ": " + pages + " pages");
    }
  },

  async it_is_small_and_drawn_at_once() {
    const page = await open(demo);
    const size = fs.statSync(demo).size;
    assert.ok(size < 2e6, String(size));
    const drawn = await page.evaluate(() =>
      performance.getEntriesByType("navigation")[0].domComplete);
    console.log("measured: " + (size / 1e3).toFixed(0) + " kB, drawn in " +
      drawn.toFixed(0) + " ms");
  },
};

// Runs in the page: visible texts with less contrast to what is behind them,
// by the formula of WCAG 2.2, "contrast ratio".
function weakTexts(least) {
  function parts(colour) {
    const numbers = colour.match(/[\d.]+/g).map(Number);
    return { rgb: numbers.slice(0, 3), alpha: numbers[3] ?? 1 };
  }
  function luminance(rgb) {
    const [r, g, b] = rgb.map((value) => {
      const part = value / 255;
      return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
    });
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  }
  function behind(element) {
    for (let at = element; at; at = at.parentElement) {
      const back = parts(getComputedStyle(at).backgroundColor);
      if (back.alpha > 0) return back.rgb;
    }
    return [255, 255, 255];
  }
  function contrast(a, b) {
    const [high, low] = [luminance(a), luminance(b)].sort((x, y) => y - x);
    return (high + 0.05) / (low + 0.05);
  }
  // a sign on the chart stands on its own colour, or in a rim of the sea's
  function behindSvg(element) {
    const style = getComputedStyle(element);
    if (style.stroke.startsWith("rgb")) return parts(style.stroke).rgb;
    const shape = element.previousElementSibling;
    if (shape && /^(rect|circle|path)$/.test(shape.tagName))
      return parts(getComputedStyle(shape).fill).rgb;
    return behind(element.closest("svg"));
  }
  const weak = new Set();
  const walker = document.createTreeWalker(
    document.querySelector(".page"), NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const element = walker.currentNode.parentElement;
    const isSvg = element.tagName === "text";
    if (!walker.currentNode.data.trim() || element.closest("title, option") ||
        !element.checkVisibility()) continue;
    const style = getComputedStyle(element);
    const ratio = contrast(parts(isSvg ? style.fill : style.color).rgb,
      isSvg ? behindSvg(element) : behind(element));
    if (ratio < least)
      weak.add(element.tagName + "." + (element.getAttribute("class") || "") +
        " in " + (element.parentElement.getAttribute("class") || "") + " '" +
        walker.currentNode.data.trim().slice(0, 20) + "' " +
        ratio.toFixed(2));
  }
  return [...weak];
}

async function run() {
  let passed = 0, failed = 0;
  browser = await chromium.launch({
    executablePath: "/usr/bin/chromium",
    args: process.getuid() === 0 ? ["--no-sandbox"] : [],
  });
  for (const [name, test] of Object.entries(tests)) {
    try {
      await test();
      console.log("[       OK ] " + name);
      passed++;
    } catch (error) {
      console.log(String(error.stack || error));
      console.log("[  FAILED  ] " + name);
      failed++;
    }
    for (const context of browser.contexts()) await context.close();
  }
  await browser.close();
  if (failed > 0) console.log(" " + failed + " FAILED TEST(S)");
  console.log(passed + " passed, " + failed + " failed");
  process.exitCode = failed > 0 ? 1 : 0;
}

run().catch((error) => {
  console.log(String(error.stack || error));
  process.exitCode = 1;
});
