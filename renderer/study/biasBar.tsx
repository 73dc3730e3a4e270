import { signedOhms } from '../words/ohmsFigure.ts';

/** Half the width of the drawing that the farthest end takes. */
const REACH = 44;

/** The bias with its interval on a line whose notch is no bias at all. */
export function BiasBar(props: { biasOhms: number; interval: { lowerOhms: number; upperOhms: number } }) {
  const { biasOhms, interval } = props;
  const farthest = Math.max(Math.abs(interval.lowerOhms), Math.abs(interval.upperOhms));
  const at = (ohms: number) => 50 + (REACH * ohms) / farthest;
  const words = `No bias is at the notch; the bias is ${signedOhms(biasOhms)}, its interval ${signedOhms(interval.lowerOhms)} to ${signedOhms(interval.upperOhms)}.`;
  return (
    <svg className="bias-bar" viewBox="0 0 100 10" role="img" aria-label={words}>
      <path className="bias-line" d="M 2 5 H 98" />
      <path className="bias-notch" d="M 50 0.5 V 9.5" />
      <rect
        className="bias-interval"
        x={at(interval.lowerOhms)}
        y="3.4"
        width={at(interval.upperOhms) - at(interval.lowerOhms)}
        height="3.2"
      />
      <circle className="bias-mark" cx={at(biasOhms)} cy="5" r="1.4" />
    </svg>
  );
}
