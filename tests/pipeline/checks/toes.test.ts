import { describe, expect, it } from 'vitest';
import { checkBeyondToes } from '@cast-to-last/pipeline/checks/beyond-toes';
import type { CheckContext, CheckPart } from '@cast-to-last/pipeline/checks/check-context';
import { checkToeBox } from '@cast-to-last/pipeline/checks/toe-box';
import { TOES_CLOSED, checkToesClosed } from '@cast-to-last/pipeline/checks/toes-closed';
import { DEFAULT_RULES } from '@cast-to-last/pipeline/rules/rules';
import { bodyContext } from '../../support/booted.ts';
import { icosphere } from '../../support/meshes.ts';

const { check: rules } = DEFAULT_RULES;
const severities = ({ findings }: CheckPart) => findings.map(({ code, severity }) => `${code} ${severity}`);

/** An egg on its side, 260 mm long and 90 broad, changed as asked. */
function egg(change: (p: [number, number, number]) => [number, number, number] = (p) => p): CheckContext {
  const sphere = icosphere(1, 5);
  const positions = sphere.positions.slice();
  for (let i = 0; i < positions.length; i += 3) {
    const [u, v, w] = [positions[i], positions[i + 1], positions[i + 2]];
    positions.set(change([130 + 130 * Math.sign(u) * Math.abs(u) ** 0.5, 45 * v, Math.max(0, 15 + 15 * w)]), i);
  }
  let front = 0;
  for (let i = 0; i < positions.length; i += 3) front = Math.max(front, positions[i]);
  return bodyContext({ positions, triangles: sphere.triangles }, { landmarks: { footLength: front, toeTip: [front, 0, 10], medialBall: [185, 45, 15], lateralBall: [175, -45, 15] } });
}

describe('toe box', () => {
  /** Toes squeezed to a share of their breadth. */
  const squeezed = (share: number) => checkToeBox(egg(([x, y, z]) => [x, x > 195 ? y * (1 - (1 - share) * Math.min(1, (x - 195) / 20)) : y, z]));

  it('needs care, then a new cast, the narrower it is, and says the share', () => {
    const [box, spread] = squeezed(1).readings;
    expect(box.id).toBe('toe-box');
    expect(spread).toMatchObject({ id: 'toe-spread', care: null, recast: null });
    const whole = box.value ?? 0;
    expect(whole).toBeGreaterThan(rules.toeBox.care);
    expect(squeezed(1).findings).toEqual([]);
    const to = (value: number) => squeezed(value / whole);
    expect(to((rules.toeBox.care + rules.toeBox.recast) / 2).findings[0]).toMatchObject({ code: 'toe-box', severity: 'care', limit: rules.toeBox.care });
    expect(severities(to(rules.toeBox.recast - 0.04))).toEqual(['toe-box recast']);
    expect(to(rules.toeBox.recast - 0.04).findings[0].text).toContain('squeezed');
  });

  it('is not read off toes that were made up', () => {
    const context = egg();
    const filled = Uint8Array.from({ length: context.filled.length }, (_, v) => +(context.surface.positions[3 * v] > 200));
    expect(checkToeBox({ ...context, filled }).readings.map((r) => r.value)).toEqual([null, null]);
  });
});

describe('beyond the toes', () => {
  const lip = (length: number) => checkBeyondToes(egg(([x, y, z]) => (x <= 250 ? [x, y, z] : [250 + ((x - 250) / 10) * length, y, 3 + z / 5])));

  it('is nothing where toes end the cast', () => {
    const grooved = egg(([x, y, z]) => [x, y, x > 215 ? z * (1 - 0.7 * Math.exp(-((y / 5) ** 2))) : z]);
    const { readings, findings } = checkBeyondToes(grooved);
    expect(readings[0]).toMatchObject({ id: 'beyond-toes', value: 0, unit: 'mm', care: rules.beyondToes.care });
    expect(findings).toEqual([]);
  });

  it('is a note where no toes show, and follows from where the ball lies', () => {
    const { readings, findings } = checkBeyondToes(egg());
    // The inside of the ball at 185 mm: by ANSUR II at 0.740 ± 0.015 of the foot's length, men and women.
    expect(readings[0].value).toBeCloseTo(260 - 185 / 0.74, 6);
    // What hides the toes draws them in and reaches round the ball, too: 10 mm besides.
    expect(readings[0].uncertainty).toBeCloseTo(Math.hypot((1.96 * 0.015 * 250) / 0.74, 10), 6);
    expect(readings[0].why).toContain('do not show under the plaster');
    expect(findings[0].text).toContain('250 mm long, not 260 mm');
    expect(findings.map(({ code, severity }) => `${code} ${severity}`)).toEqual(['toes-hidden note']);
  });

  it('is a finding that says how long the foot itself is, and how well that is known', () => {
    const { readings, findings } = lip(35);
    expect(Math.abs((readings[0].value ?? 0) - 35)).toBeLessThan(readings[0].uncertainty ?? 0);
    expect(findings[0]).toMatchObject({ code: 'beyond-toes', severity: 'care' });
    expect(findings[0].text).toContain(`${(285 - (readings[0].value ?? 0)).toFixed(0)} mm long`);
    expect(findings[0].at?.[0]).toBeCloseTo(285, 0);
  });

  /** How far the foot reaches of which the inside of the ball lies at 185 mm, as most feet have it (ANSUR II). */
  const FOOT_MM = 185 / 0.74;

  it('is told where a crumpled fold looks like toes: hardly any foot is so long before its ball', () => {
    const grooved = egg(([x, y, z]) => [x > 215 ? 215 + 2 * (x - 215) : x, y, x > 215 ? z * (1 - 0.7 * Math.exp(-((y / 5) ** 2))) : z]);
    const { readings, findings } = checkBeyondToes(grooved);
    expect(Math.abs((readings[0].value ?? 0) - (305 - FOOT_MM))).toBeLessThan(2);
    expect(readings[0].uncertainty).toBeGreaterThan(15);
    expect(findings[0]).toMatchObject({ code: 'beyond-toes', severity: 'care' });
  });

  it('is told where all of a fold but its end is as thick as toes', () => {
    const { readings, findings } = checkBeyondToes(egg(([x, y, z]) => (x <= 250 ? [x, y, z] : [250 + 5 * (x - 250), y, x > 257 ? 3 + z / 5 : z])));
    expect(Math.abs((readings[0].value ?? 0) - (300 - FOOT_MM))).toBeLessThan(2);
    expect(findings[0]).toMatchObject({ code: 'beyond-toes', severity: 'care' });
  });

  it('is not read off a front that was made up', () => {
    const context = egg();
    const filled = Uint8Array.from({ length: context.filled.length }, (_, v) => +(context.surface.positions[3 * v] > 240));
    expect(checkBeyondToes({ ...context, filled }).readings[0]).toMatchObject({ value: null, why: 'The front of the toes is missing in the scan.' });
  });
});

describe('toes closed', () => {
  const filledWhere = (context: CheckContext, where: (x: number, y: number) => boolean): CheckContext => {
    const p = context.surface.positions;
    const filled = Uint8Array.from({ length: context.filled.length }, (_, v) => +where(p[3 * v], p[3 * v + 1]));
    return { ...context, filled, aligned: { ...context.aligned, filled } };
  };

  it('finds nothing on whole toes, and nothing in a hole elsewhere', () => {
    expect(checkToesClosed(egg()).findings).toEqual([]);
    expect(checkToesClosed(filledWhere(egg(), (x) => x > 90 && x < 140)).readings[0].value).toBe(0);
  });

  it('says how much of the toes was made up', () => {
    const part = checkToesClosed(filledWhere(egg(), (x, y) => x > 235 && y > 24));
    const value = part.readings[0].value ?? 0;
    expect(value).toBeGreaterThan(TOES_CLOSED.care);
    expect(severities(part)).toEqual(['toes-closed care']);
    expect(part.readings[0].recast).toBeNull();
    expect(part.findings[0].text).toContain(`${value.toFixed(0)} mm²`);
    // A large hole of the scan across the toes is none at their front.
    expect(severities(checkToesClosed(filledWhere(egg(), (x) => x > 215 && x < 240)))).toEqual(['toes-closed care']);
  });

  it('asks for a new cast where they reach out at the front', () => {
    const part = checkToesClosed(filledWhere(egg(), (x) => x > 248));
    expect(severities(part)).toEqual(['toes-closed recast']);
    expect(part.findings[0].text).toContain('open in front');
  });

  it('finds a front that is cut off flat', () => {
    const part = checkToesClosed(egg(([x, y, z]) => [Math.min(x, 240), y, z]));
    expect(severities(part)).toEqual(['toes-closed recast']);
    expect(part.findings[0].text).toContain('cut off');
    expect(part.findings[0].at?.[0]).toBeCloseTo(240, 0);
  });

  it('takes a blunt front, which goes on round beyond its flat, for no cut', () => {
    const blunt = (round: number) => checkToesClosed(egg(([x, y, z]) => [Math.min(x, 245 - round * (0.002 * y * y + 0.02 * (z - 15) ** 2)), y, z]));
    expect(blunt(1).findings).toEqual([]);
    expect(severities(blunt(0.02))).toEqual(['toes-closed recast']);
  });

  it('takes bandage that was pressed flat in front for no cut: it has a round edge, a cut has none', () => {
    const flat = (radius: number) =>
      checkToesClosed(egg(([x, y, z]) => {
        const out = Math.min(radius, Math.hypot(Math.max(0, Math.abs(y) - 25), Math.max(0, Math.abs(z - 15) - 5)));
        return [Math.min(x, 245 - radius + Math.sqrt(radius ** 2 - out ** 2)), y, z];
      }));
    expect(flat(7).findings).toEqual([]);
    expect(severities(flat(0.5))).toEqual(['toes-closed recast']);
  });
});
