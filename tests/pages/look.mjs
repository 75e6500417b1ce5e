// Opens one page in headless Chromium through its debugging port and fails when it complains. Called by check.sh.
import { spawn } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { createRequire } from 'node:module';

// Packages lie where check.sh put them, which is the working folder.
const WebSocket = createRequire(path.join(process.cwd(), 'x.js'))('ws');
const [url, target] = process.argv.slice(2);
const profile = fs.mkdtempSync(path.join(os.tmpdir(), 'page-'));
const browser = spawn(process.env.BROWSER, ['--headless=new', '--no-sandbox', '--disable-gpu', '--hide-scrollbars', '--remote-debugging-port=0', `--user-data-dir=${profile}`, 'about:blank'], { stdio: ['ignore', 'ignore', 'pipe'] });
const address = await new Promise((resolve, reject) => {
  let text = '';
  browser.stderr.on('data', (d) => { text += d; const m = text.match(/DevTools listening on (ws:\/\/\S+)/); if (m) resolve(m[1]); });
  browser.on('exit', () => reject(new Error(text)));
});
const port = new URL(address).port;
const page = (await (await fetch(`http://127.0.0.1:${port}/json`)).json()).find((t) => t.type === 'page');
const socket = new WebSocket(page.webSocketDebuggerUrl);
await new Promise((r) => { socket.onopen = r; });
let id = 0;
const waiting = new Map(), seen = [], faults = [];
socket.onmessage = (e) => {
  const m = JSON.parse(e.data);
  if (m.id) { waiting.get(m.id)(m); waiting.delete(m.id); return; }
  seen.push(m.method);
  if (m.method === 'Runtime.exceptionThrown') faults.push(`script: ${m.params.exceptionDetails.exception?.description ?? m.params.exceptionDetails.text}`);
  if (m.method === 'Log.entryAdded' && m.params.entry.level !== 'info') faults.push(`log: ${m.params.entry.text}`);
  if (m.method === 'Network.requestWillBeSent' && !/^(file|data):/.test(m.params.request.url)) faults.push(`request: ${m.params.request.url}`);
  if (m.method === 'Page.javascriptDialogOpening') faults.push(`dialog: ${m.params.message}`);
};
const ask = (method, params = {}) => new Promise((resolve) => { waiting.set(++id, resolve); socket.send(JSON.stringify({ id, method, params })); });
const value = async (expression) => (await ask('Runtime.evaluate', { expression, returnByValue: true, awaitPromise: true })).result.result.value;

for (const domain of ['Page', 'Runtime', 'Log', 'Network']) await ask(`${domain}.enable`);
let opened = 0;
for (const width of [1280, 390]) {
  await ask('Emulation.setDeviceMetricsOverride', { width, height: 900, deviceScaleFactor: 1, mobile: false });
  await ask('Page.navigate', { url });
  while (await value('document.readyState') !== 'complete') await new Promise((r) => setTimeout(r, 20));
  await value('document.fonts.ready.then(() => 1)');
  opened = Math.max(opened, await value('(() => { const n = performance.getEntriesByType("navigation")[0]; return Math.round(n.loadEventEnd); })()'));
  const wide = await value('document.documentElement.scrollWidth');
  if (wide > width) faults.push(`${width} px: the page is ${wide} px wide`);
  const figures = await value('[...document.querySelectorAll("figure svg")].filter((s) => s.getClientRects().length > 0 && (s.getBoundingClientRect().right > innerWidth || s.closest(".pan").scrollWidth > s.closest(".pan").clientWidth + 1)).length');
  if (figures > 0) faults.push(`${width} px: ${figures} figures are wider than the screen`);
  const height = Math.min(await value('document.documentElement.scrollHeight'), 16000);
  const shot = await ask('Page.captureScreenshot', { clip: { x: 0, y: 0, width, height, scale: 1 }, captureBeyondViewport: true });
  fs.writeFileSync(`${target}-${width}.png`, Buffer.from(shot.result.data, 'base64'));
}
if (await value('document.fonts.check("16px Inter")') !== true) faults.push('the font inside the page is not used');

// The keyboard reaches the sorting buttons, and they sort.
const sorted = await value(`(() => { const b = document.querySelector("table.sort th button"); if (!b) return "none"; b.focus(); b.click(); return document.activeElement === b && b.closest("th").getAttribute("aria-sort"); })()`);
if (sorted !== 'none' && sorted !== 'ascending') faults.push(`sorting: ${sorted}`);
for (const [paper, w, h] of [['a4', 8.27, 11.69], ['letter', 8.5, 11]]) {
  const pdf = await ask('Page.printToPDF', { paperWidth: w, paperHeight: h, printBackground: true, preferCSSPageSize: false });
  if (!pdf.result) faults.push(`${paper}: ${pdf.error.message}`);
  else fs.writeFileSync(`${target}-${paper}.pdf`, Buffer.from(pdf.result.data, 'base64'));
}
console.log(`${path.basename(target)}: opened in ${opened} ms, ${faults.length === 0 ? 'no fault' : faults.join('; ')}`);
socket.close();
browser.kill();
await new Promise((r) => browser.on('exit', r));
fs.rmSync(profile, { recursive: true, force: true });
process.exit(faults.length === 0 ? 0 : 1);
