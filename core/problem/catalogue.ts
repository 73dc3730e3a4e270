/**
 * Everything that can go wrong and that a person is told about, in one place.
 * `what` says what happened and names the thing; `toDo` says what to do about it.
 * Codes are only ever added: records and scripts keep them.
 */
export const catalogue = {
  // quantity and window
  'resistance-unreadable': {
    what: (text: string) => `"${text}" is not a resistance`,
    toDo: 'Write it like 4k7, 4.7k, R47, 3M3, 220, 4700 ohm or 1e3 (m is milli, M is mega, the decimal sign is a dot).',
  },
  'colours-unreadable': {
    what: (text: string, why: string) => `"${text}" cannot be read as colours: ${why}`,
    toDo: 'Write them in their order, like brown black red gold or bn bk rd gd.',
  },
  'marking-unreadable': {
    what: (text: string, why: string) => `"${text}" is no marking of a resistor: ${why}`,
    toDo: 'Write it as it stands on the part, like 4K7J, R47, 472, 1001 or 68C; if it is none of these, give value and tolerance by hand.',
  },
  'tolerance-unreadable': {
    what: (text: string) => `"${text}" is not a tolerance`,
    toDo: 'Write it like 1 %, 0.5 ohm, +5 -10 %, or limits like 4.6k to 4.8k, >= 1M, <= 0.1.',
  },
  'tolerance-missing': {
    what: (nominal: string) => `A nominal value of ${nominal} was given, but no tolerance`,
    toDo: 'Give the tolerance too, like 1 %, or leave out both.',
  },
  'window-without-nominal': {
    what: () => 'A tolerance around a nominal value was given, but no nominal value',
    toDo: 'Give the nominal value, or give the limits themselves.',
  },
  'window-upside-down': {
    what: (lower: string, upper: string) =>
      `The window's lower limit ${lower} Ω is not below its upper limit ${upper} Ω`,
    toDo: 'Give a lower limit that is less than the upper limit.',
  },
  'window-percent-of-zero': {
    what: () => 'A percentage of a nominal value of 0 Ω is no window',
    toDo: 'For a zero-ohm part give an upper limit, like <= 0.05, or a tolerance in ohms.',
  },
  'tolerance-too-wide': {
    what: (tolerance: string) => `A tolerance of -${tolerance} would reach below 0 Ω`,
    toDo: 'Give a lower tolerance that is less than the nominal value, or give the limits themselves.',
  },
  'nominal-outside-window': {
    what: (nominal: string) => `The nominal value ${nominal} Ω lies outside its own limits`,
    toDo: 'Correct the nominal value or the limits.',
  },

  // sampling
  'lot-empty': {
    what: (size: string) => `A lot of ${size} pieces cannot be inspected`,
    toDo: 'Give the number of pieces in the lot, a whole number from 1 up.',
  },
  'sample-larger-than-lot': {
    what: (sample: number, lot: number) => `A sample of ${sample} pieces is larger than the lot of ${lot}`,
    toDo: 'Give a sample of at most the lot, or plan by AQL.',
  },
  'seed-missing': {
    what: () => 'Positions are to be drawn at random, but there is no seed to draw them from',
    toDo: 'Give a seed: a whole number from 0 to 4 294 967 295.',
  },
  'positions-too-many': {
    what: (sample: number, most: number) => `${sample} positions cannot be drawn at random; ${most} are the most`,
    toDo: 'Measure every piece of the lot, or take a smaller sample.',
  },
  'positions-of-study': {
    what: () => 'A study measures the same pieces again and again; it draws no positions along a reel',
    toDo: 'Leave the positions out.',
  },
  'acceptance-number-impossible': {
    what: (accept: number, sample: number) =>
      `An acceptance number of ${accept} is not below the sample of ${sample} pieces`,
    toDo: 'Give an acceptance number from 0 to one less than the sample.',
  },
  'spread-known-by-two-points': {
    what: () => 'With a known spread there is no plan by AQL in here',
    toDo: 'Give the accepted and the refused quality with their risks, or let the spread be taken from the sample.',
  },
  'double-not-known': {
    what: (standard: string) => `The double sampling plans of ${standard} are not in here`,
    toDo: 'Choose single sampling, or the double plans of MIL-STD-105E.',
  },
  'severity-not-by-rule': {
    what: (chosen: string, says: string) =>
      `Inspection was to be ${chosen}, but by the switching rules it is ${says} now`,
    toDo: 'Leave the severity to the rules, or say who answers for another one, and why.',
  },
  'inspection-discontinued': {
    what: () =>
      'Inspection of this part from this supplier is discontinued: too many lots were not accepted on tightened inspection',
    toDo: 'Have the supplier mend the cause. To go on all the same somebody must answer for it with name and reason; inspection is then tightened.',
  },
  'aql-unknown': {
    what: (aql: string) => `AQL ${aql} is not one of the preferred values`,
    toDo: 'Choose 0.010, 0.015, 0.025, 0.040, 0.065, 0.10, 0.15, 0.25, 0.40, 0.65, 1.0, 1.5, 2.5, 4.0, 6.5 or 10 (per cent).',
  },
  'aql-not-percent': {
    what: (aql: string) => `AQL ${aql} counts nonconformities per hundred items, not nonconforming pieces`,
    toDo: 'Pieces that pass or fail need an AQL of 10 or less.',
  },
  'share-impossible': {
    what: (share: string) => `${share} is not a share that can be worked with`,
    toDo: 'Give a share between 0 and 1.',
  },
  'reduced-not-known': {
    what: () => 'Reduced inspection by ISO 2859-1 has numbers of its own, and they are not in this program',
    toDo: 'Choose MIL-STD-105E for reduced inspection, or stay with normal inspection.',
  },
  'quality-percent-impossible': {
    what: (percent: string) => `A quality of ${percent} % nonconforming is none that a plan can be found for`,
    toDo: 'Give more than 0 and at most 100 per cent.',
  },
  'risk-percent-impossible': {
    what: (percent: string) => `A risk of ${percent} % is none that a plan can be found for`,
    toDo: 'Give more than 0 and less than 100 per cent; 5 and 10 are usual.',
  },
  'points-not-apart': {
    what: (accepted: string, refused: string) =>
      `A plan that accepts ${accepted} % nonconforming and refuses ${refused} % cannot be`,
    toDo: 'Give a quality to be refused that is worse than the one to be accepted.',
  },
  'plan-too-large': {
    what: (most: number) => `No plan of at most ${most} pieces can tell these two qualities apart at these risks`,
    toDo: 'Take qualities further apart or larger risks, or measure every piece.',
  },
  'level-unknown': {
    what: (level: string) => `"${level}" is not an inspection level`,
    toDo: 'Choose I, II or III, or for small samples S-1, S-2, S-3 or S-4.',
  },

  'variables-level-unknown': {
    what: (level: string) => `"${level}" is not an inspection level of sampling by variables`,
    toDo: 'Choose I, II, III, IV or V; IV is usual.',
  },
  'variables-aql-unknown': {
    what: (aql: string, severity: string) => `There is no ${severity} plan by variables at AQL ${aql}`,
    toDo: 'Choose 0.065, 0.10, 0.15, 0.25, 0.40, 0.65, 1.0, 1.5, 2.5, 4.0, 6.5 or 10 (normal inspection: 0.040 too), or plan by two points.',
  },
  'variables-plan-unconfirmed': {
    what: (letter: string, aql: string, severity: string) =>
      `The ${severity} plan by variables of letter ${letter} at AQL ${aql} is not confirmed by a second source`,
    toDo: 'Choose another level or AQL, or plan by two points.',
  },
  'variables-points-impossible': {
    what: (points: string, why: string) => `No plan by variables fits the points ${points}: ${why}`,
    toDo: 'Give two qualities further apart, or larger risks.',
  },
  'variables-spread-impossible': {
    what: (spread: string) => `A known standard deviation of ${spread} Ω cannot be`,
    toDo: 'Give the standard deviation of the process in ohms, above 0, or plan with unknown spread.',
  },

  // inspection
  'run-unknown': {
    what: (run: number) => `There is no run ${run} in this record`,
    toDo: 'Choose one of the runs that are listed.',
  },
  'run-already-open': {
    what: () => 'This run has received its lot already',
    toDo: 'Receive the next lot as a run of its own.',
  },
  'run-decided': {
    what: () => 'The lot of this run is decided; nothing more is added to it',
    toDo: 'Receive the lot again as a new run if it must be measured again.',
  },
  'run-on-hold': {
    what: () => 'This lot is on hold',
    toDo: 'Lift the hold first; that needs a name and a reason.',
  },
  'run-not-on-hold': {
    what: () => 'This lot is not on hold',
    toDo: 'Nothing needs to be lifted.',
  },
  'run-not-ready': {
    what: () => 'The bench of this run is not ready yet',
    toDo: 'Connect the meter, confirm the cautions and do the checks of the bench first.',
  },
  'reading-under-way': {
    what: () => 'A reading is under way',
    toDo: 'Wait for its verdict; the same piece must not count twice.',
  },
  'run-interrupted': {
    what: () => 'This run is interrupted',
    toDo: 'It goes on by itself when the meter is back.',
  },
  'meter-missing': {
    what: () => 'No meter is connected to this run',
    toDo: 'Choose the meter and connect it.',
  },
  'cautions-unconfirmed': {
    what: () => 'The cautions were not confirmed',
    toDo: 'Read the cautions and confirm that the pieces are de-energised and isolated.',
  },
  'sample-complete': {
    what: () => 'The plan needs no further piece',
    toDo: 'Decide the lot, or void a reading that should not count.',
  },
  'reading-unknown': {
    what: (reading: number) => `There is no reading ${reading} in this run`,
    toDo: 'Name one of the readings listed.',
  },
  'reading-voided-already': {
    what: (reading: number) => `Reading ${reading} is void already`,
    toDo: 'Nothing needs to be done.',
  },
  'reading-suspect-already': {
    what: (reading: number) => `Reading ${reading} is suspect and does not count already`,
    toDo: 'Measure its piece again.',
  },
  'positions-unknown': {
    what: (position: number) => `Position ${position} cannot be noted: this lot's pieces are taken without positions`,
    toDo: 'Measure the piece without it. Where pieces are taken is chosen when a lot is received.',
  },
  'position-outside': {
    what: (position: number, size: number) => `Position ${position} is not on a reel of ${size} pieces`,
    toDo: 'Give a whole number from 1 to the number of pieces in the lot.',
  },
  'position-taken': {
    what: (position: number, piece: number) => `Piece ${piece} was taken at position ${position} already`,
    toDo: 'Take another position, or void the reading of that piece where its position was noted wrongly.',
  },
  'position-of-another-piece': {
    what: (piece: number, next: number) => `Piece ${piece} is not the one that comes next by now, piece ${next} is`,
    toDo: 'Nothing was noted. Where a piece counted meanwhile from another position than noted, void its reading and say where it was.',
  },
  'reading-negative': {
    what: (raw: string) => `The meter says ${raw}, far below zero, which no resistor can be`,
    toDo: 'Look for a voltage on the piece or a wrong zero. The reading does not count.',
  },
  'reading-too-coarse': {
    what: (raw: string, resolution: string) => `The meter says ${raw}, whose last digit is worth ${resolution} Ω`,
    toDo: 'That is more than a tenth of the window. Set a lower range or a longer integration time; the reading does not count.',
  },
  'decision-against-plan': {
    what: (disposition: string) => `By its plan this lot cannot be ${disposition} now`,
    toDo: 'Finish the sample first, or put the lot on hold with a reason.',
  },
  'approval-missing': {
    what: () => 'A lot is to be accepted against its plan, and only one person answers for it',
    toDo: 'Give the name of a second person who answers for it, or do not accept the lot.',
  },
  'approval-by-same-person': {
    what: (name: string) => `${name} cannot be the second person beside themselves`,
    toDo: 'Somebody else must answer for accepting the lot against its plan.',
  },
  'approval-not-needed': {
    what: () => 'A second person was named, but the lot is not accepted against its plan',
    toDo: 'Leave the second name out.',
  },
  'nothing-to-correct': {
    what: () => 'There is no decision of this lot that could be corrected',
    toDo: 'Decide the lot first; a lot on hold goes on when the hold is lifted.',
  },
  'correction-changes-nothing': {
    what: () => 'The correction says what stands there already',
    toDo: 'Give what is right, or leave it as it is.',
  },
  'lot-number-missing': {
    what: () => 'A lot cannot be without a number',
    toDo: 'Give the number of the lot.',
  },
  'study-decides-no-lot': {
    what: () => 'A study of the measurement says nothing of a lot',
    toDo: 'Receive the lot by itself to accept it or not.',
  },
  'study-unfinished': {
    what: (left: number) => `This study still has ${left === 1 ? 'one reading' : `${left} readings`} to go`,
    toDo: 'Take all of them, or put the study on hold with a reason.',
  },
  'study-piece-open': {
    what: (turn: number) => `The meter shows an overload at turn ${turn}, and a study needs pieces that have a value`,
    toDo: 'Put the piece on the probes again; the reading does not count. With a piece that stays open put the study on hold, and begin another without it.',
  },
  'not-a-study': {
    what: () => 'This run inspects a lot and is no study of the measurement',
    toDo: 'Accept the lot or not, as its plan says.',
  },
  'reason-missing': {
    what: () => 'This needs a reason',
    toDo: 'Write in a few words why.',
  },
  'run-undecided': {
    what: () => 'This lot is not decided yet',
    toDo: 'Decide the lot first; the certificate comes after.',
  },

  // readiness
  'readiness-expired': {
    what: (why: string) => `The checks of the bench hold no longer: ${why}`,
    toDo: 'Do them again from the first one. What was read since the last whole round counts only once they have passed.',
  },
  'check-out-of-order': {
    what: (check: string, due: string) => `The check "${check}" does not come now: "${due}" is due`,
    toDo: 'Do the checks in their order; each rests on those before it.',
  },
  'check-incomplete': {
    what: (check: string, missing: string) => `For the check "${check}" there is missing: ${missing}`,
    toDo: 'Do this check again.',
  },
  'check-must-be-measured': {
    what: (check: string) => `The check "${check}" is measured; nobody's word stands for it with this meter`,
    toDo: 'Let the meter measure it.',
  },
  'check-not-waivable': {
    what: (check: string) => `The check "${check}" cannot be left out`,
    toDo: 'Do it. Only the reference can be done without, with name and reason.',
  },
  'reference-missing': {
    what: () => 'It was not said which reference resistor is measured',
    toDo: 'Choose the reference on the probes, or say why it is done without.',
  },
  'closing-check-missing': {
    what: () => 'No whole round of checks was done after the last reading',
    toDo: 'Do the checks once more; then the lot can be decided.',
  },
  'calibration-overdue': {
    what: (why: string) => `The meter can't decide a lot: ${why}`,
    toDo: 'Measure again with a meter that is in date, or override its calibration with name and reason.',
  },
  'calibration-unknown': {
    what: () => "The meter can't decide a lot: no calibration of it is known",
    toDo: 'Enter its calibration and accuracy, or override it with name and reason.',
  },
  'calibration-in-date': {
    what: () => 'The calibration of this meter is in date',
    toDo: 'It needs no override.',
  },
  'accuracy-missing': {
    what: (why: string) => `The accuracy of the meter is not known here: ${why}`,
    toDo: 'Enter it as the manual of the meter prints it.',
  },
  'range-too-small': {
    what: (method: string, largest: string, upper: string) =>
      `The largest ${method} range of the meter is ${largest} Ω, and the window reaches to ${upper} Ω`,
    toDo: 'Use an instrument made for resistances that high.',
  },

  // meter and line
  'check-failed': {
    what: (check: string, why: string) => `The check of ${check} failed: ${why}`,
    toDo: 'Put right what it found, then do the check again. Readings since the last good checks are measured again.',
  },
  'finding-stopped': {
    what: () => 'The search for the meter was stopped',
    toDo: 'Start it again, or type the address with the settings of the line.',
  },
  'meter-data-simulated': {
    what: () => 'Accuracy and calibration of the simulated bench are its own',
    toDo: 'Connect a real meter to enter those of it.',
  },
  'address-unreadable': {
    what: (address: string) => `"${address}" is not a meter's address`,
    toDo: 'Give sim:, tcp://host:port, or the path of a serial port such as /dev/ttyUSB0 or COM3; behind it settings of the line that are known, like ?baud=19200&parity=even.',
  },
  'meter-unreachable': {
    what: (address: string, why: string) => `No meter could be reached at ${address}: ${why}`,
    toDo: 'Check the cable, the power and the address.',
  },
  'port-busy': {
    what: (address: string) => `The port ${address} is held by another program`,
    toDo: 'Close the other program that uses this port, then try again. On Windows, plug the adapter in again if none does.',
  },
  'port-forbidden': {
    what: (address: string) => `You may not open the port ${address}`,
    toDo: 'On Linux add yourself to the group that owns the port (often dialout) and log in again. On macOS use its /dev/cu. name and allow this program access. On Windows close what else may have it, and plug the adapter in again.',
  },
  'meter-silent': {
    what: (query: string, milliseconds: number) => `The meter did not answer ${query} within ${milliseconds} ms`,
    toDo: 'Check baud rate, terminator and cable, and that the meter speaks SCPI on this port.',
  },
  'meter-lost': {
    what: (why: string) => `The connection to the meter is lost: ${why}`,
    toDo: 'Check cable and power. Readings taken so far are kept.',
  },
  'meter-error': {
    what: (query: string, errors: string) => `The meter refused ${query}: ${errors}`,
    toDo: 'Look the error up in the manual of the meter. Nothing was measured with this setting.',
  },
  'meter-other': {
    what: (expected: string, found: string) => `Another meter answers now: "${found}" instead of "${expected}"`,
    toDo: 'Connect the meter the run began with.',
  },
  'answer-unreadable': {
    what: (query: string, text: string) => `The meter answered ${query} with "${text}", which is not one number`,
    toDo: 'The reading does not count. Check the settings of the line and read again.',
  },
  'answer-not-a-number': {
    what: (query: string) => `The meter answered ${query} with its sign for "not a number"`,
    toDo: 'The reading does not count. Check the function of the meter and read again.',
  },
  'meter-not-in-step': {
    what: (question: string, came: string) =>
      `The meter did not answer ${question} as it must; what came instead: ${came}`,
    toDo: 'Check the settings of the line, and choose the dialect of meters that take one command per line if this is one.',
  },
  'answer-out-of-step': {
    what: (question: string, text: string) => `What the meter sent does not belong to ${question}: "${text}"`,
    toDo: 'The reading does not count; the line is put back in step before the next one. Read again.',
  },
  'answer-garbled': {
    what: (text: string) => `What came from the meter is garbled: "${text}"`,
    toDo: 'The reading does not count. Check baud rate, data bits, parity and the cable.',
  },
  'line-echoes': {
    what: (text: string) => `The meter sends back what it is sent: "${text}"`,
    toDo: 'The reading does not count; the echo is left out from now on. Read again.',
  },
  'question-refused': {
    what: (question: string) => `The meter left out an answer to ${question}`,
    toDo: 'The reading does not count. See whether the meter is of the dialect that was chosen.',
  },
  'command-too-long': {
    what: (text: string, longest: number) => `"${text}" is longer than the ${longest} bytes the meter takes at once`,
    toDo: 'Give a larger limit for the longest command, if the meter takes more.',
  },
  'answer-too-long': {
    what: (bytes: number) => `The meter sent ${bytes} bytes without an end of line`,
    toDo: 'Check baud rate and terminator.',
  },
  'setting-not-taken': {
    what: (setting: string, wanted: string, found: string) =>
      `The meter did not take ${setting} ${wanted}: it says ${found}`,
    toDo: 'Choose a setting the meter has.',
  },
  'meter-restarted': {
    what: () =>
      'The meter has lost its settings: it was switched off and on, started again by itself, or was given back to its front panel',
    toDo: 'The reading does not count. The meter is set again before the next one; show again that the bench is ready.',
  },
  'function-changed': {
    what: (wanted: string, found: string) => `The meter measures ${found} now instead of ${wanted}`,
    toDo: 'The reading does not count. Leave the keys of the meter alone while it is used, and set its function again where the program cannot.',
  },
  'function-not-turned': {
    what: (what: string) => `This meter is set by hand, and it is not turned to what this check needs: ${what}`,
    toDo: 'Turn the meter to it, then do the check again. Turn it back before pieces are measured.',
  },
  'function-missing': {
    what: (wanted: string, dialect: string) => `A meter of the dialect "${dialect}" does not measure ${wanted}`,
    toDo: 'Use a meter that does, or choose the dialect that fits this one.',
  },
  'trigger-missing': {
    what: (dialect: string) =>
      `A meter of the dialect "${dialect}" has no trigger of its own that it can be told to wait for`,
    toDo: 'Take readings by a key or with both hands on the probes, or enter the words for its trigger in a dialect of your own.',
  },
  'capture-ended': {
    what: (by: string) => `Readings are no longer taken by themselves: ${by}`,
    toDo: 'Begin again when the probes are free for pieces.',
  },
  'capture-off': {
    what: () => 'No readings are being taken by themselves now',
    toDo: 'Begin to take readings hands-free first, or take this one by the key.',
  },
  'dialect-unknown': {
    what: (name: string, known: string) => `There is no dialect "${name}"; there are ${known}`,
    toDo: 'Choose one of them, or put a file of this name into the folder of your own dialects.',
  },
  'dialect-invalid': {
    what: (file: string, line: number, column: number, why: string) =>
      `${file}, line ${line}, column ${column}: ${why}`,
    toDo: 'Correct the file; until then this dialect cannot be chosen.',
  },
  'meter-not-found': {
    what: (path: string, tried: number, came: string) =>
      `No meter told who it is on ${path} with any of ${tried} settings of the line; what came: ${came}`,
    toDo: 'Check that the meter is on, that its serial interface is chosen in its menu, and the cable (some need a null modem).',
  },

  'inspection-stopped': {
    what: (run: number) => `Run ${run} was stopped before its sample was complete`,
    toDo: 'Go on with it later; the readings taken so far are in the record.',
  },

  // uncertainty and decision rules
  'uncertainty-unknown': {
    what: () => 'The uncertainty of this reading is not known, and the decision rule of the lot needs it',
    toDo: 'Enter the accuracy of the meter, measure a reference resistor, or receive the lot with simple acceptance.',
  },
  'temperature-unknown': {
    what: () => 'The ambient temperature is not known, and the value is wanted at the reference temperature',
    toDo: 'Check the ambient temperature, then read the piece again.',
  },
  'budget-unusable': {
    what: (why: string) => `A budget of uncertainty cannot be made: ${why}`,
    toDo: 'Correct the figure it was made of.',
  },
  'temperature-impossible': {
    what: (ppmPerKelvin: string, celsius: string) =>
      `With ${ppmPerKelvin} ppm/K no part would be left at ${celsius} °C`,
    toDo: 'Correct the temperature coefficient of the part or the ambient temperature.',
  },
  'coefficient-needs-change': {
    what: () => 'A temperature coefficient needs two different temperatures and a first value above 0 Ω',
    toDo: 'Measure the piece again at another temperature.',
  },
  'guard-bands-meet': {
    what: (ohms: string) => `Guard bands of ${ohms} Ω leave nothing of the window between them`,
    toDo: 'Use a meter or a range that is more exact, or receive the lot with narrower guard bands.',
  },
  'spread-unreadable': {
    what: (text: string) => `"${text}" is not a process spread`,
    toDo: 'Write a standard deviation above 0 like "12 ohm", or like "0.3 %" of the nominal value.',
  },

  // record, certificates, files
  'record-in-use': {
    what: (file: string) => `Another station is using the record ${file}`,
    toDo: 'Close the other station, or give this one another folder with --data.',
  },
  'record-unusable': {
    what: (file: string, why: string) => `The record ${file} cannot be used: ${why}`,
    toDo: 'Check the folder, its permissions and the space on the disk. Nothing was changed.',
  },
  'record-altered': {
    what: (position: number) => `The record was altered: entry ${position} does not fit the one before it`,
    toDo: 'Do not use this record for decisions. Keep the file and ask who changed it.',
  },
  'record-rows-altered': {
    what: (run: number) => `The tables of runs do not say of run ${run} what its entries give`,
    toDo: 'All entries are as they were written. Close the station, make the tables anew with "reelohm record rebuild", and ask who writes into the file.',
  },
  'record-cut': {
    what: (position: number, before: number) =>
      `The record ends with entry ${position}, but it once had entry ${before}`,
    toDo: 'Do not use this record for decisions. Keep the file, and restore the record from a backup.',
  },
  'record-damaged': {
    what: (file: string, why: string) => `The file ${file} is damaged: ${why}`,
    toDo: 'Keep the file, check the disk, and restore the record from a backup.',
  },
  'record-exists': {
    what: (file: string) => `There is a record already: ${file}`,
    toDo: 'Name another folder with --data; restoring takes its place with --replace, and keeps it under another name.',
  },
  'record-import-wrong': {
    what: (file: string, line: number, why: string) => `${file}, line ${line}: ${why}`,
    toDo: 'Export the record anew and take that file as it is. Nothing was imported.',
  },
  'record-failed': {
    what: (why: string) => `The record could not keep the entry: ${why}`,
    toDo: 'Open the station again. The reading was not shown and does not count.',
  },
  'record-full': {
    what: (why: string) => `The record could not keep the entry: ${why}`,
    toDo: 'Make room on the disk, then do it again. What could not be kept was not shown and does not count.',
  },
  'work-stopped': {
    what: () => 'It was stopped',
    toDo: 'Nothing was written or changed. Begin it again when it is wanted.',
  },
  'work-under-way': {
    what: () => 'This is being done already',
    toDo: 'Wait until it is done, or stop it.',
  },
  'run-went-on': {
    what: (run: number) => `Run ${run} went on while its certificate was being made`,
    toDo: 'Nothing was written. Write the certificate when the lot is decided.',
  },
  'certificate-exists': {
    what: (file: string) => `${file} exists already`,
    toDo: 'Choose another name; a certificate or result is never overwritten.',
  },
  'certificate-unwritable': {
    what: (file: string, why: string) => `${file} could not be written: ${why}`,
    toDo: 'Check the folder and the space on the disk, then write it again; the record has everything.',
  },
  'certificate-broken': {
    what: (where: string, why: string) => `The certificate does not hold at ${where}: ${why}`,
    toDo: 'Do not rely on this file. Ask for a new copy from the record.',
  },
  'key-exposed': {
    what: (file: string, why: string) =>
      `The key that certificates are signed by is not safe from others: ${file}: ${why}`,
    toDo: 'Make file and folder readable to their owner only (chmod 600 and 700). Where others may have read it, move the folder away: a new key is made, and whoever knows the old one must be told.',
  },
  'key-unusable': {
    what: (file: string, why: string) => `The key that certificates are signed by cannot be used: ${file}: ${why}`,
    toDo: 'Put both halves of the key back from a copy, or move the folder of keys away: a new key is made, and whoever knows the old one must be told.',
  },
  'key-unreadable': {
    what: (file: string) => `${file} holds no Ed25519 public key in PEM`,
    toDo: 'Ask for the file station-key.pub.pem of the station, or for what "reelohm key" prints there.',
  },
  'key-known-already': {
    what: (name: string, fingerprint: string) =>
      `The key with the fingerprint ${fingerprint} is known as "${name}" already`,
    toDo: 'Names and keys are known once. To replace a key, take its entry out of known-keys.json in the data folder first.',
  },
  'file-unwritable': {
    what: (file: string, why: string) => `${file} could not be written: ${why}`,
    toDo: 'Check the folder, its permissions and the space on the disk. What was there before is still there.',
  },
  'results-unwritable': {
    what: (file: string, why: string) => `The results could not be added to ${file}: ${why}`,
    toDo: 'Make room or choose another file. The last lot is decided and in the record; its line was printed.',
  },
  'file-exists': {
    what: (file: string) => `${file} exists already`,
    toDo: 'Choose another name; nothing that is there is overwritten.',
  },
  'file-unreadable': {
    what: (file: string, why: string) => `${file} could not be read: ${why}`,
    toDo: 'Check the name and the permissions.',
  },

  // studies
  'study-out-of-range': {
    what: (field: string, found: number | string, range: string) =>
      `A study with ${found} ${field} is not possible: ${range}`,
    toDo: 'Correct the number; nothing was changed.',
  },
  'study-operators-unclear': {
    what: (why: string) => `The operators of the study cannot be told apart: ${why}`,
    toDo: 'Give every operator a name of their own.',
  },
  'study-reference-unfit': {
    what: (why: string) => `The reference value does not fit the study: ${why}`,
    toDo: 'Leave the reference value out, or plan a single-operator study of one piece whose value is known.',
  },
  'study-turn-unknown': {
    what: (turn: number | string) => `The study has no turn ${turn}`,
    toDo: 'Name one of the turns of its order.',
  },
  'study-readings-missing': {
    what: (missing: string) => `The study lacks readings: ${missing}`,
    toDo: 'Take these readings, or leave out the whole piece or operator they belong to; every cell needs the same number.',
  },
  'study-reading-twice': {
    what: (which: string) => `The study has two readings of ${which}`,
    toDo: 'Keep one of them, or correct its piece, operator, session or repeat.',
  },
  'study-one-operator': {
    what: (operator: string) =>
      `All readings are by one operator (${operator}), so nothing can be said of reproducibility`,
    toDo: 'Let a second operator measure the same pieces, or make a single-operator study of the readings.',
  },
  'study-one-piece': {
    what: (piece: string) => `All readings are of one piece (${piece}), so gauge and pieces cannot be told apart`,
    toDo: 'Measure at least two pieces, better ten that span what is inspected.',
  },
  'study-one-repeat': {
    what: (design: string) =>
      `Every cell of the ${design} study has one reading only, so nothing can be said of repeatability`,
    toDo: 'Let every piece be measured at least twice under the same conditions.',
  },
  'study-without-spread': {
    what: (readings: number | string) =>
      `All repeats of the ${readings} readings agree to the last digit: there is no spread to work with`,
    toDo: 'Measure with a finer resolution, and lift and contact the piece anew before every repeat.',
  },
  'study-file-unreadable': {
    what: (where: string, why: string) => `The file of readings cannot be used, ${where}: ${why}`,
    toDo: 'Give a CSV file with a comma between columns: piece,operator,repeat,ohms, or piece,session,repeat,ohms of a single operator.',
  },
  'study-broken': {
    what: (where: string, why: string) => `The result of the study does not hold at ${where}: ${why}`,
    toDo: 'Do not rely on this file. Ask for a new copy from the record, or work the readings out anew.',
  },

  // before and after a treatment
  'stress-limit-unreadable': {
    what: (text: string) => `"${text}" is not a limit of change`,
    toDo: 'Write it like 0.25 % + 0.05 ohm, or one of the two alone with its unit; more than 0, at most 100 %.',
  },
  'stress-piece-twice': {
    what: (piece: string, when: 'before' | 'after') => `Piece ${piece} has two values ${when} the treatment`,
    toDo: 'Keep one of them, or correct the number of the piece.',
  },
  'stress-without-pairs': {
    what: () => 'No piece has a value both before and after the treatment',
    toDo: 'Give the same pieces the same numbers in both lists.',
  },
  'network-unreadable': {
    what: (line: number, why: string) => `Line ${line} of the network: ${why}`,
    toDo: 'Write a line for each resistor, like "R1 in mid 4k7 1%", or one line like "10k + (4k7 || 3k3)".',
  },
  'network-node-unknown': {
    what: (node: string) => `There is no node ${node} in the network`,
    toDo: 'Choose two nodes that a resistor is connected to.',
  },
  'stress-run-unfit': {
    what: (source: string, why: string) => `Pieces of ${source} cannot be compared: ${why}`,
    toDo: 'Choose another run that measured the same pieces at the same temperature, or give their values as a CSV file.',
  },
  'stress-file-unreadable': {
    what: (where: string, why: string) => `The file of pieces cannot be used, ${where}: ${why}`,
    toDo: 'Give a CSV file with the columns piece and ohms, a comma between them, a decimal dot and no units.',
  },
  'stress-broken': {
    what: (where: string, why: string) =>
      `The comparison before and after the treatment does not hold at ${where}: ${why}`,
    toDo: 'Do not rely on this file. Ask for a new copy, or compare the two lists anew.',
  },

  // statistics
  'figure-not-finite': {
    what: (value: string) => `${value} is not a number that statistics can be made of`,
    toDo: 'Leave out pieces that read overload; if all the values are numbers, please report this.',
  },
  'chart-out-of-order': {
    what: (x: number, before: number) => `A point of a chart at ${x} comes after one at ${before}`,
    toDo: 'No person can cause this: please report it.',
  },

  // parts
  'parts-file-unreadable': {
    what: (where: string, why: string) => `The file of parts cannot be used, ${where}: ${why}`,
    toDo: 'Give a CSV file whose first row names its columns, part and tolerance among them, with a comma or a semicolon between columns.',
  },
  'part-unknown': {
    what: (number: string) => `There is no part ${number} in the parts list`,
    toDo: 'Look at the list again; somebody may have renamed or removed it.',
  },
  'part-known-already': {
    what: (number: string) => `The parts list has a part ${number} already`,
    toDo: 'Give another part number, or say that this one is to replace it.',
  },
  'parts-too-many': {
    what: (count: number, most: number) => `That would be ${count} parts, more than the ${most} the parts list holds`,
    toDo: 'Remove parts that are no longer inspected, or import fewer rows.',
  },
  'parts-changed-meanwhile': {
    what: () => 'The parts list was changed after this preview was made',
    toDo: 'Look at the preview again and confirm it. Nothing was imported.',
  },

  // practice
  'practice-needs-bench': {
    what: () => 'An exercise is done on the simulated bench, and a real meter was to be connected to it',
    toDo: 'Begin the exercise from the practice tray: its bench is laid out by itself. Real pieces are measured in a run of their own.',
  },
  'no-exercise': {
    what: () => 'This run is no exercise',
    toDo: 'Begin one from the practice tray.',
  },
  'exercise-over': {
    what: () => 'The exercise is over: its points are given',
    toDo: 'Begin it again from the practice tray; it counts as another try.',
  },
  'exercise-undecided': {
    what: () => 'The lot of the exercise is not decided yet, so there is no debrief',
    toDo: 'Decide the lot first; what is true is told after that.',
  },
  'exercise-unknown': {
    what: (name: string) => `There is no exercise ${name} here`,
    toDo: 'Look at the practice tray again: a file may have been renamed or taken away.',
  },
  'exercise-file-unusable': {
    what: (file: string, where: string, why: string) => `The exercise in ${file} cannot be used, ${where}: ${why}`,
    toDo: 'Correct the file and look at the practice tray again; README.md of the exercises says what each field means.',
  },
  'exercise-seal-broken': {
    what: (file: string) => `The exercise in ${file} is not what was sealed`,
    toDo: 'Ask the instructor for the file again.',
  },
  'exercise-changed': {
    what: (name: string) => `The exercise ${name} is not the one this run was begun with`,
    toDo: 'Put the file back that it was begun with, or begin the exercise again.',
  },

  // continuity runs
  'continuity-list-unreadable': {
    what: (where: string, why: string) => `The list of points cannot be used, ${where}: ${why}`,
    toDo: 'Give a CSV file whose first row names its columns, from and to among them, with a comma or a semicolon between columns.',
  },
  'continuity-list-faulty': {
    what: (row: number, column: string, value: string, why: string) =>
      `Row ${row} of the list, ${column}${value === '' ? '' : ` "${value}"`}: ${why}`,
    toDo: 'Correct the list and give it again; nothing was kept of it.',
  },
  'continuity-limits-wrong': {
    what: (why: string) => `These limits cannot be used: ${why}`,
    toDo: 'Give a limit for closed from 0.5 Ω to 1 kΩ and a limit for open from 10 kΩ to 10 MΩ.',
  },
  'continuity-too-many-points': {
    what: (most: number) => `With all pairs that follow from the list there are more than ${most} points`,
    toDo: 'Measure one terminal of each net only, leave cross-connections out, or part the list.',
  },
  'continuity-point-unknown': {
    what: (point: number) => `There is no point ${point} in this run`,
    toDo: 'Name one of the points of the list.',
  },
  'continuity-point-read-already': {
    what: (point: number) => `Point ${point} has a reading that counts already`,
    toDo: 'Make that reading void with a reason first; then the point can be measured again.',
  },
  'continuity-points-left': {
    what: (left: number) => `${left} points were neither measured nor skipped`,
    toDo: 'Measure them, or skip each with a reason. A run with points left can be put on hold or not accepted.',
  },
  'continuity-complete': {
    what: () => 'No point is left to be measured',
    toDo: 'Check the leads once more, then decide.',
  },
  'continuity-not-such-a-run': {
    what: (run: number) => `Run ${run} is not of this kind`,
    toDo: 'Open it from the list it stands in: continuity runs have one of their own.',
  },
  'continuity-unsteady': {
    what: (first: string, second: string) => `The contact is not steady: ${first}, then ${second}`,
    toDo: 'Press both tips firmly on clean places and take the reading again. It does not count.',
  },
  'stepping-off': {
    what: () => 'No points are being measured hands-free now',
    toDo: 'Start it first.',
  },
  'continuity-broken': {
    what: (where: string, why: string) => `The continuity certificate does not hold at ${where}: ${why}`,
    toDo: 'Do not rely on this file. Ask for a new copy, or measure anew.',
  },

  // doors
  'input-invalid': {
    what: (where: string, why: string) => `${where}: ${why}`,
    toDo: 'Correct this and try again; nothing was changed.',
  },
  'bench-unavailable': {
    what: (where: string, why: string) => `The simulated bench could not be served at ${where}: ${why}`,
    toDo: 'Give another port with --port, or 0: then a free one is taken. A terminal needs socat and a name that is free.',
  },
  'loopback-unavailable': {
    what: (port: number, why: string) => `The station could not be served on port ${port} of 127.0.0.1: ${why}`,
    toDo: 'Give another port, or none: then a free one is taken.',
  },
  'station-away': {
    what: () => 'The station does not answer',
    toDo: 'See whether the program still runs. This page goes on by itself when it answers again; if the program was started anew, open the address it printed. Every reading shown is in the record.',
  },
  'node-too-old': {
    what: (version: string) => `Node.js ${version} is too old`,
    toDo: 'Install Node.js 22.14 or newer; 24 is best.',
  },
  defect: {
    what: (why: string) => `Something in the program itself failed: ${why}`,
    toDo: 'Nothing counted. Please report this with the text.',
  },
} satisfies Record<string, { what: (...facts: never[]) => string; toDo: string }>;
