import './charts.css';

/** Keeps the place of charts that are not there yet. */
export function ChartsToCome() {
  return <div className="charts" aria-busy="true" />;
}
