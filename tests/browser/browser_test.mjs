// The pages that tickover writes, in a real browser: nothing overflows, nothing is fetched, nothing
// is hard to reach for anyone (axe-core), they print on the pages expected, and values are found.
// Usage: node browser_test.mjs PROGRAM SOURCE   (ctest -R browser runs it)
// TICKOVER_BROWSER=required makes a missing browser an error; TICKOVER_SCREENSHOTS=DIR keeps
// pictures to be looked at.
import { existsSync, mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { Jobs } from './jobs.mjs';

const [program, source] = process.argv.slice(2).map((one) => path.resolve(one));
const SKIPPED = 77;  // ctest's SKIP_RETURN_CODE
const SIZES = [{ name: 'phone', width: 360, height: 740 }, { name: 'tablet', width: 768, height: 1024 },
  { name: 'desktop', width: 1280, height: 900 }];
const SCHEMES = ['light', 'dark'];
const LOOKED_THROUGH = ['phone light', 'desktop dark'];
const A4 = { name: 'A4', width: 680, height: 960 };  // 180 mm between the margins, at 96 dots an inch

function missing(what) {
  const required = process.env.TICKOVER_BROWSER === 'required';
  console.log(`${required ? 'failed' : 'skipped'}: ${what}; TICKOVER_BROWSER=required .ci/setup installs it`);
  process.exit(required ? 1 : SKIPPED);
}

function browserPath() {
  const candidates = [process.env.TICKOVER_CHROMIUM, '/usr/bin/chromium', '/usr/bin/chromium-browser'];
  return candidates.find((one) => one && existsSync(one)) ?? missing('there is no Chromium');
}

function modules() {
  const folder = path.join(source, 'build/npm');
  if (!existsSync(path.join(folder, 'node_modules/playwright-core'))) {
    missing(`there is no playwright-core in ${folder}`);
  }
  const require = createRequire(path.join(folder, 'package.json'));
  return { chromium: require('playwright-core').chromium, axe: require.resolve('axe-core/axe.min.js') };
}

const faults = [];
function expect(holds, page, what) {
  if (!holds) faults.push(`${page}: ${what}`);
}

// What stands out of the window to the right, but for what lies in a box that scrolls by itself.
function overflowing() {
  const wide = document.documentElement.clientWidth;
  const out = document.documentElement.scrollWidth > wide ? ['the whole page'] : [];
  for (const element of document.querySelectorAll('body *')) {
    const box = element.getBoundingClientRect();
    if (box.right <= wide + 0.5 || element.closest('.wide') !== null) continue;
    out.push(`${element.tagName} '${element.textContent.trim().slice(0, 30)}'`);
  }
  return out;
}

// Texts of a picture that leave it or lie on one another cannot be read.
function unreadableInPictures() {
  const out = [];
  for (const picture of document.querySelectorAll('svg')) {
    const frame = picture.getBoundingClientRect();
    const texts = [...picture.querySelectorAll('text')].filter((one) => one.textContent !== '');
    const boxes = texts.map((one) => one.getBoundingClientRect());
    boxes.forEach((a, i) => {
      if (a.left < frame.left - 1 || a.right > frame.right + 1 || a.top < frame.top - 1 ||
          a.bottom > frame.bottom + 1) out.push(`'${texts[i].textContent}' leaves its picture`);
      boxes.slice(0, i).forEach((b, j) => {
        const across = Math.min(a.right, b.right) - Math.max(a.left, b.left);
        const down = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
        if (across > 1 && down > 3) out.push(`'${texts[i].textContent}' lies on '${texts[j].textContent}'`);
      });
    });
  }
  return out;
}

async function violations(page) {
  const found = await page.evaluate(() => window.axe.run(document, { resultTypes: ['violations'] }));
  return found.violations.map((one) => `${one.id} at ${one.nodes[0].target}: ${one.help}`);
}

async function printed(page) {
  await page.emulateMedia({ media: 'print', colorScheme: 'light' });
  const pdf = await page.pdf({ format: 'A4', preferCSSPageSize: true });
  await page.emulateMedia({ media: 'screen' });
  return pdf.toString('latin1').match(/\/Type\s*\/Page\b(?!s)/g).length;
}

async function looked(page, name, size, scheme) {
  if (!process.env.TICKOVER_SCREENSHOTS) return;
  mkdirSync(process.env.TICKOVER_SCREENSHOTS, { recursive: true });
  await page.screenshot({ fullPage: true,
    path: path.join(process.env.TICKOVER_SCREENSHOTS, `${name}-${size.name}-${scheme}.png`) });
}

async function checkSizes(page, name, opened) {
  for (const size of SIZES) {
    await page.setViewportSize(size);
    for (const scheme of SCHEMES) {
      await page.emulateMedia({ colorScheme: scheme });
      if (!opened) await looked(page, name, size, scheme);
      const where = `${name} (${size.name}, ${scheme}${opened ? ', tables open' : ''})`;
      if (scheme === 'light') {
        for (const one of await page.evaluate(overflowing)) expect(false, where, `overflow: ${one}`);
        for (const one of await page.evaluate(unreadableInPictures)) expect(false, where, one);
      }
      // the tree is the same in all; colours want one look at each scheme, overlaps at both widths
      if (!LOOKED_THROUGH.includes(`${size.name} ${scheme}`)) continue;
      for (const one of await violations(page)) expect(false, where, one);
    }
  }
}

async function check(browser, axe, { file, name, pages, texts }) {
  const context = await browser.newContext({ javaScriptEnabled: true, offline: true });
  const page = await context.newPage();
  const said = [], fetched = [];
  page.on('console', (message) => said.push(message.text()));
  page.on('pageerror', (error) => said.push(String(error)));
  page.on('request', (request) => fetched.push(request.url()));
  await page.goto(pathToFileURL(file).href);
  await page.addScriptTag({ path: axe });
  for (const text of texts) {
    expect(await page.evaluate((one) => window.find(one), text), name, `'${text}' is not found`);
  }
  await checkSizes(page, name, false);
  const count = await printed(page);
  expect(pages.includes(count), name, `prints on ${count} pages, expected ${pages.join(' or ')}`);
  await page.setViewportSize(A4);
  await page.emulateMedia({ media: 'print', colorScheme: 'dark' });
  await looked(page, name, A4, 'print');
  for (const one of await page.evaluate(overflowing)) expect(false, `${name} (A4)`, `overflow: ${one}`);
  await page.emulateMedia({ media: 'screen' });
  if (await page.evaluate(() => {
    const closed = document.querySelectorAll('details');
    closed.forEach((one) => { one.open = true; });
    return closed.length;
  })) await checkSizes(page, name, true);
  expect(said.length === 0, name, `the console says: ${said}`);
  expect(fetched.length === 1, name, `fetched: ${fetched}`);
  await context.close();
}

// Each page with the numbers of A4 pages it may take, and texts that a reader would search for.
function pagesOf(jobs) {
  const sheets = [
    { job: 'winter-four', texts: ['17.6 mm', 'cap split to its root', 'five turns past the mark'], pages: [5, 6] },
    { job: 'hanging-twin', texts: ['split'], pages: [4, 5] },
    { job: 'thinned-four', texts: ['28 kPa', '3 1/4'], pages: [3, 4] },
  ];
  const list = [];
  for (const { job, texts, pages } of sheets) {
    jobs.play(job);
    for (const language of ['en', 'de']) {
      list.push({ file: jobs.sheet(job, 'mechanic', language), name: `${job}-mechanic-${language}`, pages, texts });
      list.push({ file: jobs.sheet(job, 'rider', language), name: `${job}-rider-${language}`, pages: [1], texts: [] });
    }
  }
  list.push(...hostilePages(jobs));
  jobs.run('tickover trial --machine single --jobs 12 --html trial.html');
  list.push({ file: path.join(jobs.folder, 'trial.html'), name: 'trial', pages: [1, 2],
    texts: ['printed-order'] });
  return list;
}

// What a rider might type to break a page: a word without end, markup, marks that turn text round.
function hostilePages(jobs) {
  const typed = '<img src=x onerror=alert(1)></style><script>throw 1</script> ' + 'x'.repeat(9000) +
    ' \u202eevil\u202c \u05e9\u05dc\u05d5\u05dd \ud83d\udd27 "\'&';
  const env = { TYPED: typed };
  jobs.run('tickover open wild.job --machine single --complaint "$TYPED"', '', env);
  jobs.run('tickover record wild.job idle-hunts clear --minutes 3 --note "$TYPED"', '', env);
  jobs.run('tickover repair wild.job clean-pilot --note "$TYPED"', '', env);
  return ['mechanic', 'rider'].map((reader) => ({ file: jobs.sheet('wild', reader, 'en'),
    name: `wild-${reader}`, pages: Array.from({ length: 30 }, (_, i) => i + 1), texts: ['<img src=x'] }));
}

const { chromium, axe } = modules();
const executablePath = browserPath();
const folder = mkdtempSync(path.join(tmpdir(), 'tickover-browser-'));
let browser;
try {
  const pages = pagesOf(new Jobs(program, source, folder));
  browser = await chromium.launch({ executablePath, args: ['--no-sandbox', '--disable-gpu'] });
  for (const one of pages) await check(browser, axe, one);
  console.log(faults.length === 0 ? `${pages.length} pages are in order` : faults.join('\n'));
} finally {
  await browser?.close();
  rmSync(folder, { recursive: true, force: true });
}
process.exit(faults.length === 0 ? 0 : 1);
