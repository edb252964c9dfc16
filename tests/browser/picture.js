// A picture of a page: picture.js PAGE PICTURE SOURCE. At noon of the first day,
// on a screen of 1280 by 860, in 256 colours: a third of the bytes of all.
// SOURCE, of picture-source, is kept in it: is it still that page's picture?
"use strict";
const fs = require("fs");
const path = require("path");
const zlib = require("zlib");
const { chromium } = require(path.resolve(
  "build/browser/node_modules/playwright-core"));

// Runs in the browser: the commonest colours, and for each pixel the nearest of
// them. Colours are counted in steps of 8.
async function indexed(png) {
  const bytes = Uint8Array.from(atob(png), (sign) => sign.charCodeAt(0));
  const bitmap = await createImageBitmap(new Blob([bytes]));
  const canvas = new OffscreenCanvas(bitmap.width, bitmap.height);
  const context = canvas.getContext("2d");
  context.drawImage(bitmap, 0, 0);
  const data = context.getImageData(0, 0, bitmap.width, bitmap.height).data;
  const counts = new Map();
  const coarse = (i) => (data[i] >> 3) << 10 | (data[i + 1] >> 3) << 5 |
    data[i + 2] >> 3;
  for (let i = 0; i < data.length; i += 4) {
    const key = coarse(i);
    const found = counts.get(key) ||
      { count: 0, rgb: [data[i], data[i + 1], data[i + 2]] };
    found.count++;
    counts.set(key, found);
  }
  const palette = [...counts.values()].sort((a, b) => b.count - a.count)
    .slice(0, 256).map((entry) => entry.rgb);
  const apart = (rgb, i) => (rgb[0] - data[i]) ** 2 +
    (rgb[1] - data[i + 1]) ** 2 + (rgb[2] - data[i + 2]) ** 2;
  const nearest = new Map();
  const pixels = [];
  for (let i = 0; i < data.length; i += 4) {
    const key = coarse(i);
    if (!nearest.has(key))
      nearest.set(key, palette.reduce((best, rgb, k) =>
        apart(rgb, i) < apart(palette[best], i) ? k : best, 0));
    pixels.push(nearest.get(key));
  }
  return { width: bitmap.width, height: bitmap.height, palette, pixels };
}

function chunk(name, data) {
  const body = Buffer.concat([Buffer.from(name, "latin1"), data]);
  const ends = Buffer.alloc(8);
  ends.writeUInt32BE(data.length, 0);
  ends.writeUInt32BE(zlib.crc32 ? zlib.crc32(body) : crc32(body), 4);
  return Buffer.concat([ends.subarray(0, 4), body, ends.subarray(4)]);
}

// Of the PNG specification, annex D; older nodes have none.
function crc32(bytes) {
  let crc = 0xffffffff;
  for (const byte of bytes) {
    crc ^= byte;
    for (let k = 0; k < 8; k++)
      crc = crc & 1 ? crc >>> 1 ^ 0xedb88320 : crc >>> 1;
  }
  return ~crc >>> 0;
}

function png(image, source) {
  const head = Buffer.alloc(13);
  head.writeUInt32BE(image.width, 0);
  head.writeUInt32BE(image.height, 4);
  head.set([8, 3, 0, 0, 0], 8); // 8 bits, a palette
  const rows = Buffer.alloc((image.width + 1) * image.height);
  for (let y = 0; y < image.height; y++)
    rows.set(image.pixels.slice(y * image.width, (y + 1) * image.width),
      y * (image.width + 1) + 1);
  return Buffer.concat([
    Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]),
    chunk("IHDR", head),
    chunk("PLTE", Buffer.from(image.palette.flat())),
    chunk("tEXt", Buffer.from("Comment\0" + source, "latin1")),
    chunk("IDAT", zlib.deflateSync(rows, { level: 9 })),
    chunk("IEND", Buffer.alloc(0)),
  ]);
}

async function run() {
  const browser = await chromium.launch({
    executablePath: "/usr/bin/chromium",
    args: process.getuid() === 0 ? ["--no-sandbox"] : [],
  });
  const page = await browser.newPage({ viewport: { width: 1280, height: 860 },
    colorScheme: "light" });
  await page.goto("file://" + path.resolve(process.argv[2]));
  await page.focus("#time");
  await page.keyboard.press("ArrowUp");
  await page.evaluate(() => document.activeElement.blur());
  const whole = await page.screenshot();
  const blank = await browser.newPage();
  fs.writeFileSync(process.argv[3],
    png(await blank.evaluate(indexed, whole.toString("base64")),
      process.argv[4]));
  await browser.close();
}

run().catch((error) => {
  console.error(String(error));
  process.exitCode = 1;
});
