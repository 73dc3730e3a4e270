import { lazy, Suspense } from 'react';
import type { MeterLink } from '../core/contract/contract.ts';
import { OPEN_STATION } from '../core/contract/contract.ts';
import { problem } from '../core/problem/problem.ts';
import { HistoryScreen } from './history/historyScreen.tsx';
import { SimulatedMark } from './lotCard/lotCard.tsx';
import { ReceiveScreen } from './receive/receiveScreen.tsx';
import { hashOf, type Route, useRoute } from './route.ts';
import { RunDesk } from './runDesk.tsx';
import { RunsScreen } from './runs/runsScreen.tsx';
import { SoundAndLook } from './soundAndLook.tsx';
import { useStation } from './station/station.tsx';
import { useFeed } from './station/useFeed.ts';
import { useProgressOf } from './station/useProgressOf.ts';
import { StationOpening } from './stationOpening.tsx';
import './app.css';

/** What is not needed to inspect a lot is fetched when it is asked for. */
const StudyScreen = lazy(() => import('./study/studyScreen.tsx'));
const StressScreen = lazy(() => import('./stress/stressScreen.tsx'));
const NetworkScreen = lazy(() => import('./network/networkScreen.tsx'));
const PartsScreen = lazy(() => import('./parts/partsScreen.tsx'));
const ContinuityScreen = lazy(() => import('./continuity/continuityScreen.tsx'));
const TrayScreen = lazy(() => import('./practice/trayScreen.tsx'));
const WiringScreen = lazy(() => import('./wiring/wiringScreen.tsx'));
const RecordScreen = lazy(() => import('./record/recordScreen.tsx'));

/** The whole face of the station: a head that is always there, and the screen the address names. */
export function App() {
  const { up, link, linkKnown, continuity, wiringLink } = useStation();
  const watching = useFeed(continuity, (now) => now?.on === true);
  const route = useRoute();
  const opening = useProgressOf(OPEN_STATION);
  return (
    <div className="app">
      <header className="head">
        <a className="head-name" href={hashOf({ screen: 'runs' })} aria-label="Reelohm, all runs">
          <svg viewBox="0 0 44 16" aria-hidden="true" focusable="false">
            <path className="window-bar-line" d="M0 8H44" />
            <path className="window-bar-band" d="M11 2H33V14H11Z" />
            <circle className="verdict-pass" cx="25" cy="8" r="4.5" />
          </svg>
          Reelohm
        </a>
        {route.screen !== 'runs' && (
          <a className="small" href={hashOf({ screen: 'runs' })}>
            All runs
          </a>
        )}
        {linkKnown && up !== false && (
          <Link link={wiringLink.state === 'none' ? link : wiringLink} watching={watching} />
        )}
        <SoundAndLook />
      </header>
      <div role="alert">{up === false && <Away />}</div>
      {opening ? <StationOpening progress={opening} /> : <Screen route={route} />}
    </div>
  );
}

/** The screen that the address names. */
function Screen({ route }: { route: Route }) {
  return (
    <>
      {route.screen === 'runs' && <RunsScreen />}
      {route.screen === 'receive' && <ReceiveScreen />}
      {route.screen === 'history' && <HistoryScreen query={route.query} trends={route.trends} />}
      <Suspense fallback={<main className="lone" aria-busy="true" aria-label="Reelohm" />}>
        {route.screen === 'study' && <StudyScreen />}
        {route.screen === 'stress' && <StressScreen />}
        {route.screen === 'networks' && <NetworkScreen />}
        {route.screen === 'parts' && <PartsScreen />}
        {route.screen === 'continuity' && <ContinuityScreen />}
        {route.screen === 'practice' && <TrayScreen />}
        {route.screen === 'wiring' && <WiringScreen run={route.run} />}
        {route.screen === 'record' && <RecordScreen />}
      </Suspense>
      {route.screen === 'run' && <RunDesk key={route.run} number={route.run} view={route.view} />}
    </>
  );
}

/** The line to the station is down. */
function Away() {
  const { what, toDo } = problem('station-away');
  return (
    <div className="away">
      <p>
        <strong>{what}.</strong> {toDo}
      </p>
    </div>
  );
}

/** How the meter of a run stands; that it is simulated cannot be overlooked on any screen. */
function Link({ link, watching }: { link: MeterLink; watching: boolean }) {
  if (link.state === 'connected' && link.simulated) return <SimulatedMark where="head" />;
  return <p className="head-link small quiet">{watching ? 'Watching continuity' : linkWords(link)}</p>;
}

function linkWords(link: MeterLink): string {
  switch (link.state) {
    case 'none':
      return 'No meter connected';
    case 'connecting':
      return `Connecting ${link.address} …`;
    case 'connected':
      return `Meter connected, ${link.address}`;
    case 'lost':
      return `Meter lost, ${link.address}`;
  }
}
