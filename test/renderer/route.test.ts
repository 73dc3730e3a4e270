import { describe, expect, it } from 'vitest';
import { hashOf, type Route, routeOf } from '../../renderer/route.ts';

describe('the address of a screen', () => {
  it.each([
    [{ screen: 'runs' }, '#/'],
    [{ screen: 'receive' }, '#/receive'],
    [{ screen: 'run', run: 12 }, '#/run/12'],
    [{ screen: 'run', run: 12, view: 'worth' }, '#/run/12/worth'],
    [{ screen: 'run', run: 12, view: 'figures' }, '#/run/12/figures'],
    [{ screen: 'run', run: 12, view: 'lots' }, '#/run/12/lots'],
  ] as [Route, string][])('of %o is %s, and leads back to it', (route, hash) => {
    expect(hashOf(route)).toBe(hash);
    expect(routeOf(hash)).toEqual(route);
  });

  it('that is unknown is the start, and of an unknown view its run', () => {
    for (const hash of ['', '#/run/0', '#/run/x', '#/run/1/worth/more', '#/elsewhere']) {
      expect(routeOf(hash)).toEqual({ screen: 'runs' });
    }
    expect(routeOf('#/run/3/nothing')).toEqual({ screen: 'run', run: 3 });
  });
});
