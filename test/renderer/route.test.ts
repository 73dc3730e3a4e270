import { expect, it } from 'vitest';
import { hashOf, type Route, routeOf } from '../../renderer/route.ts';

it.each<Route>([
  { screen: 'runs' },
  { screen: 'receive' },
  { screen: 'study' },
  { screen: 'stress' },
  { screen: 'parts' },
  { screen: 'continuity' },
  { screen: 'run', run: 12 },
  { screen: 'run', run: 12, view: 'lots' },
  { screen: 'run', run: 12, view: 'print' },
])('a page loaded anew comes back to %o', (route) => {
  expect(routeOf(hashOf(route))).toEqual(route);
});

it('takes an address nobody knows for the start page', () => {
  expect(routeOf('#/studies')).toEqual({ screen: 'runs' });
});
