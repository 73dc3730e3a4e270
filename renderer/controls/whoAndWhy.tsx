import { TextField } from './field.tsx';

interface Asked {
  label: string;
  value: string;
  onChange: (value: string) => void;
  /** Whether it was tried to go on: before that nobody is told what is missing. */
  tried: boolean;
  autoFocus?: boolean;
}

/** Who does it: a name that must be given. */
export function WhoField(props: Asked) {
  const { tried, ...field } = props;
  const missing = tried && props.value.trim() === '';
  return <TextField {...field} name="by" problem={missing ? 'Must not be empty.' : undefined} required />;
}

/** Why it is done: a reason that must be given. */
export function WhyField(props: Asked) {
  const { tried, ...field } = props;
  const missing = tried && props.value.trim() === '';
  const problem = missing ? 'This needs a reason. Write in a few words why.' : undefined;
  return <TextField {...field} name="reason" problem={problem} required />;
}
