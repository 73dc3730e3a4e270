import { expect, it } from 'vitest';
import { hashOf, type Route, routeOf } from '../../renderer/route.ts';

it.each<Route>([
  { screen: 'runs' },
  { screen: 'receive' },
  { screen: 'study' },
  { screen: 'stress' },
  { screen: 'networks' },
  { screen: 'parts' },
  { screen: 'continuity' },
  { screen: 'record' },
  { screen: 'wiring' },
  { screen: 'wiring', run: 12 },
  { screen: 'history', query: '', trends: false },
  { screen: 'history', query: 'part=TF-4K7-1&from=2026-03-02', trends: false },
  { screen: 'history', query: 'supplier=%C3%9Cber%26Co', trends: true },
  { screen: 'run', run: 12 },
  { screen: 'run', run: 12, view: 'lots' },
  { screen: 'run', run: 12, view: 'story' },
  { screen: 'run', run: 12, view: 'print' },
])('a page loaded anew comes back to %o', (route) => {
  expect(routeOf(hashOf(route))).toEqual(route);
});

it('takes an address nobody knows for the start page', () => {
  expect(routeOf('#/studies')).toEqual({ screen: 'runs' });
  expect(routeOf('#/historyof')).toEqual({ screen: 'runs' });
});
