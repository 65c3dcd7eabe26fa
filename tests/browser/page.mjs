// What the tests do on the page, in the words of someone who uses it: go to a place, type into a field, read a figure.

/** Opens a place by its key at the thumb. */
export const go = (page, place) => page.locator("nav.places").getByRole("button", { name: place }).click();

/** A panel's key in the title block: "design", "sheet" or "unit". */
const panelKey = (page, which) =>
  page.locator("header.title button", { has: page.locator("small", { hasText: new RegExp(`^${which}$`) }) });

/** Opens a panel: "design", "sheet" or "unit". */
export async function panel(page, which) {
  const key = panelKey(page, which);
  if ((await key.getAttribute("aria-expanded")) !== "true") await key.click();
}

/** Closes the panel that is open. */
export async function closePanel(page) {
  const open = page.locator('header.title button[aria-expanded="true"]');
  if (await open.count()) await open.click();
}

/** Opens every fold of what is shown. */
export async function unfold(page) {
  const closed = page.locator('.foldkey[aria-expanded="false"]:visible');
  while (await closed.count()) await closed.first().click();
}

/** The entry of this name; the first one where a place shows it twice. */
export const field = (page, label) => page.locator("main").getByLabel(label, { exact: true }).first();

/** Types a value key by key, as a hand does. */
export async function type(page, label, value) {
  const input = field(page, label);
  await input.click();
  await input.press("Control+a");
  if (value === "") await input.press("Delete");
  else await input.pressSequentially(value);
}

export async function typeAll(page, entries) {
  for (const [label, value] of entries) await type(page, label, value);
}

/** Chooses from a list. */
export const choose = (page, label, option) => field(page, label).selectOption({ label: option });

/** The first number in a text; NaN where there is none. Several signs of minus are one. */
export const number = (text) => Number((text.replaceAll("−", "-").match(/-?\d+(\.\d+)?/) ?? ["NaN"])[0]);

/** Every number in a text. */
export const numbers = (text) => (text.replaceAll("−", "-").match(/\d+(\.\d+)?/g) ?? []).map(Number);

/** A large figure on the desk by its stable name. */
export const figure = async (page, key) => number(await page.locator(`[data-figure="${key}"] dd`).innerText());

/** Every large figure on the desk, as shown. */
export const figures = async (page) =>
  Object.fromEntries(await page.locator("[data-figure]").evaluateAll((all) =>
    all.map((one) => [one.dataset.figure, one.innerText.replace(/\s+/g, " ")])));

/** The sentence a place begins with. */
export const line = (page) => page.locator("h1.line").innerText();

/** The volume ledger: rows of `[text, litres]`, signed. */
export const ledger = async (page) =>
  (await page.locator("table.ledger tr").evaluateAll((rows) =>
    rows.map((row) => [row.cells[0].innerText, row.cells[1].innerText])))
    .map(([text, value]) => [text, Number(value.replaceAll("−", "-").replace(/\s/g, ""))]);

/** What is shown of a place, without the entries' own texts. */
export async function shown(page, place) {
  await go(page, place);
  return page.locator("main").innerText();
}

/** Everything the three places show. */
export async function everything(page) {
  const texts = {};
  for (const place of ["Desk", "Saw", "Car"]) texts[place] = await shown(page, place);
  return texts;
}

/** Starts an empty design. */
export async function newDesign(page) {
  await panel(page, "design");
  await page.getByRole("button", { name: "New design" }).click();
}

/** The link of the open design. */
export async function link(page) {
  await panel(page, "design");
  const text = await page.locator("[data-link]").inputValue();
  await closePanel(page);
  return text;
}

/** The message in the title block. */
export const message = (page) => page.locator(".messages .message p").first();

/** What lies in storage under keys that begin so. */
export const kept = (page, prefix) =>
  page.evaluate((prefix) => Object.fromEntries(
    Object.keys(localStorage).filter((key) => key.startsWith(prefix)).sort().map((key) => [key, localStorage.getItem(key)]),
  ), prefix);

/** Waits until the open design lies in storage with this text in it. */
export const saved = (page, text) =>
  page.waitForFunction((text) => {
    const open = localStorage.getItem("kc.open");
    return (localStorage.getItem(`kc.design.${open}`) ?? "").includes(text);
  }, text);

/** `found` within `within` of `expected`. */
export function near(ctx, found, expected, within, what) {
  ctx.check(Math.abs(found - expected) <= within, `${what}: found ${found}, expected ${expected} ± ${within}`);
}
