import { TextField } from '../controls/field.tsx';
import { useStation } from '../station/station.tsx';

/** Where the meter for continuity is; nobody is told that it is missing before it was tried. */
export function MeterAddress(props: {
  address: string;
  onChange: (address: string) => void;
  tried: boolean;
  autoFocus?: boolean;
}) {
  const { address, onChange, tried, autoFocus = false } = props;
  return (
    <TextField
      label="Address of the meter"
      name="address"
      value={address}
      onChange={onChange}
      machine
      autoFocus={autoFocus}
      problem={tried && address.trim() === '' ? 'Write the address of the meter.' : undefined}
      hint="/dev/ttyUSB0, COM3 or tcp://192.0.2.7:5025, with settings of the line behind it; sim: is the simulated bench"
    />
  );
}

/** That a run loses its meter to this. */
export function TakenFromRun() {
  const { link } = useStation();
  if (link.state === 'none') return null;
  return (
    <p>
      <strong>Run {link.run} has a meter connected.</strong> It is disconnected for this, and the bench of that run is
      checked again before its next reading.
    </p>
  );
}
