import { type ContinuityEvent, continuityEvent } from '../continuity/event.ts';
import { type InspectionEvent, inspectionEvent } from '../inspection/event.ts';

/** Everything that can stand in the record: what happens in inspection runs and in continuity runs. A run is of one kind. */
export type RecordEvent = InspectionEvent | ContinuityEvent;

/** The names of all events of continuity runs begin so, and no other does. */
const OF_CONTINUITY = 'continuity-';

/** Whether an event is one of a continuity run. */
export function isContinuityEvent(event: RecordEvent): event is ContinuityEvent {
  return event.type.startsWith(OF_CONTINUITY);
}

/** Reads an event of either kind. @throws ZodError where it is none */
export function readRecordEvent(value: unknown): RecordEvent {
  const type = (value as { type?: unknown } | null)?.type;
  const isContinuity = typeof type === 'string' && type.startsWith(OF_CONTINUITY);
  return isContinuity ? continuityEvent.parse(value) : inspectionEvent.parse(value);
}
