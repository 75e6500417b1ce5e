// Makes the two *.subset.woff2 files, which report pages carry, from the whole fonts beside this file. Needs Node and the package subset-font (BSD-3-Clause):
//   npm install --prefix /tmp/subset subset-font && NODE_PATH=/tmp/subset/node_modules node src/CureSim.Reports/Fonts/subset.mjs
// Letters: Latin with its European extensions, Greek, basic Cyrillic, punctuation, superscripts, arrows, mathematical signs.
import { createRequire } from 'node:module';
import fs from 'node:fs';
import path from 'node:path';

const subset = createRequire(process.env.NODE_PATH ? path.join(process.env.NODE_PATH, 'x.js') : import.meta.url)('subset-font');
const ranges = [
  [0x20, 0x7e], [0xa0, 0x17f], [0x218, 0x21b], [0x2c6, 0x2c7], [0x2da, 0x2da], [0x2dc, 0x2dc], [0x370, 0x3ff], [0x400, 0x45f], [0x490, 0x491], [0x2000, 0x200b], [0x2010, 0x2015],
  [0x2018, 0x201e], [0x2020, 0x2022], [0x2026, 0x2026], [0x202f, 0x202f], [0x2030, 0x2033], [0x2039, 0x203a], [0x2070, 0x209c], [0x20ac, 0x20ac], [0x2122, 0x2122],
  [0x2126, 0x2126], [0x2153, 0x215e], [0x2190, 0x2193], [0x2202, 0x2206], [0x220f, 0x2212], [0x221a, 0x221e], [0x222b, 0x222b], [0x2248, 0x2248], [0x2260, 0x2265],
  [0x25a0, 0x25a1], [0x25cf, 0x25cf], [0x2713, 0x2717],
];
let letters = '';
for (const [from, to] of ranges) for (let c = from; c <= to; c++) letters += String.fromCodePoint(c);
const folder = path.dirname(new URL(import.meta.url).pathname);
for (const weight of ['Regular', 'SemiBold']) {
  const font = await subset(fs.readFileSync(path.join(folder, `Inter-${weight}.ttf`)), letters, { targetFormat: 'woff2' });
  fs.writeFileSync(path.join(folder, `Inter-${weight}.subset.woff2`), font);
  console.log(weight, font.length);
}
