import { openFoundSample } from './foundSample.ts';
import { expect, expectSound, expectSoundAtBoth, goTo, test } from './watch.ts';

const solvedLine = 'Solved from all that is known';

test('a reading typed wrong is named with its amount, left out, told in the report, and undone', async ({
  page,
}) => {
  test.setTimeout(300_000);
  await openFoundSample(page);
  const solved = () => expect(page.getByRole('main').getByText(solvedLine)).toBeVisible({ timeout: 90_000 });
  const disagree = page.getByRole('region', { name: 'What does not agree' });
  const leftOut = page.getByRole('region', { name: 'Left out by you' });

  await test.step('nothing disagrees, and the report is empty until it is solved', async () => {
    await goTo(page, 'Readings');
    await page.goto('/#surface/report');
    await expect(page.getByRole('heading', { level: 1, name: 'Report of the surface' })).toBeVisible();
    await expect(page.getByRole('heading', { name: 'In short' })).toBeVisible({ timeout: 90_000 });
    await expect(page.getByText('Nothing: all that was measured agrees and is used.')).toBeVisible();
    await page.getByRole('link', { name: '‹ Surface' }).click();
    await solved();
    await expect(disagree).toHaveCount(0);
  });

  await test.step('10 mm too much is named, by about 10 mm', async () => {
    await goTo(page, 'Readings');
    const field = page.getByLabel('r4, plane to wall');
    const read = Number(await field.inputValue());
    await field.fill(String(read + 10));
    await field.blur();
    await goTo(page, 'Surface');
    await solved();
    const words = await disagree.getByRole('paragraph').filter({ hasText: 'Reading r4' }).innerText();
    const tooLongMm = Number(/reads ([\d.]+) mm too long/.exec(words)?.[1]);
    expect(Math.abs(tooLongMm - 10)).toBeLessThan(3);
    await expectSound(page, 'surface with what does not agree');
  });

  await test.step('Mend opens its row, ready to be typed over', async () => {
    await disagree.getByRole('link', { name: 'Mend reading r4' }).click();
    await expect(page.getByRole('heading', { level: 1, name: 'Readings' })).toBeVisible();
    await expect(page.getByLabel('r4, plane to wall')).toBeFocused();
    await expect(page.getByRole('row', { name: /r4 reads [\d.]+ mm too long/ })).toBeVisible();
    await expectSound(page, 'readings with one that does not agree');
    await page.goBack();
  });

  await test.step('left out, the surface is solved again without it', async () => {
    await disagree.getByRole('button', { name: 'Leave out reading r4' }).click();
    await expect(leftOut.getByText(/^Reading r4/)).toBeVisible();
    await solved();
    await expect(leftOut.getByText(/reads [\d.]+ mm too long/)).toBeVisible({ timeout: 60_000 });
    await expect(disagree.getByText(/^Reading r4/)).toHaveCount(0);
    await goTo(page, 'Readings');
    await expect(page.getByText('6 readings, 1 left out').first()).toBeVisible();
    await expect(page.getByRole('button', { name: 'Take in again reading r4' })).toBeVisible();
  });

  await test.step('the report says so; it can be read on a phone, on a desk and on paper', async () => {
    await goTo(page, 'Papers');
    await page.getByRole('link', { name: /^Report of the surface/ }).click();
    await expect(page.getByText('Reading r4: left out by you.')).toBeVisible();
    await expect(page.getByRole('img', { name: 'How each reading stands against the rest' })).toBeVisible();
    await expectSoundAtBoth(page, 'report', ['screen', 'print']);
  });

  await test.step('on a phone all but the most wanted is folded up, on paper nothing', async () => {
    await page.setViewportSize({ width: 390, height: 844 });
    // it is folded when it is opened
    await page.getByRole('link', { name: '‹ Surface' }).click();
    await expect(disagree.or(leftOut).first()).toBeVisible();
    await page.goBack();
    await expect(page.getByRole('heading', { name: 'In short' })).toBeVisible();
    const folded = page.locator('details:not([open])');
    expect(await folded.count()).toBeGreaterThan(5);
    await page.evaluate(() => dispatchEvent(new Event('beforeprint')));
    await expect(folded).toHaveCount(0);
    await page.setViewportSize({ width: 1440, height: 900 });
  });

  await test.step('undo takes it in again, and undo once more mends it', async () => {
    await page.goto('/#surface');
    await page.getByRole('button', { name: 'Undo' }).first().click();
    await expect(leftOut).toHaveCount(0);
    await solved();
    await expect(disagree.getByText(/^Reading r4/)).toBeVisible();
    await page.getByRole('button', { name: 'Undo' }).first().click();
    await solved();
    await expect(disagree).toHaveCount(0);
  });
});
