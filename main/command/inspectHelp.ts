/** What `inspect --help` says of the file that describes the job. */
export function inspectHelp(): string {
  return `
The file, with everything that is known in it (unknown fields are refused; only inspector, part, lot and plan are needed):
  {
    "inspector": "A. Example",
    "part": { "number": "TF-4K7-1", "description": "thin film", "nominal": "4k7", "tolerance": "1 %", "ratedWatts": "0.25" },
    "lot": { "number": "L-2093", "supplier": "Example Supply", "reel": "R-1", "size": 5000 },
    "plan": { "level": "II", "aql": "1.0" },
    "positions": { "kind": "random", "seed": 12 },
    "measurement": { "method": "2-wire", "range": "window", "integrationCycles": 1 },
    "checks": { "everyReadings": 50, "everyMinutes": 240, "ambientCelsius": { "lowest": "18", "highest": "28" } },
    "decision": { "rule": "guard-band", "guardFactor": "1", "processSpread": "0.3 %" },
    "temperature": {
      "referenceCelsius": "20",
      "coefficient": { "knownPpmPerKelvin": "15", "uncertaintyPpmPerKelvin": "3" },
      "thermometerKelvins": "1"
    }
  }
A plan may also be agreed numbers, { "sampleSize": 20, "accept": 0 }, or a study of the measurement itself, in an order that
follows from the seed:
    { "study": { "design": "crossed", "pieces": 10, "operators": ["A", "B", "C"], "repeats": 3, "seed": 1 } }
    { "study": { "design": "single", "pieces": 1, "operators": ["A"], "repeats": 6, "sessions": 4, "seed": 1 } }
A single-operator study of one piece may give "referenceOhms" and "referenceUncertaintyOhms" (k = 2) in ohms.
Positions along the reel: random (a seed is drawn where none is given), spread (beginning, middle and end), or as-taken, which is
meant where nothing is said. Where they are known the next one is shown; "p 1210" says that the piece comes from there instead.
Decision rules: simple-acceptance; guard-band (what lies closer to a limit than guardFactor × U fails); non-binary (what lies
in the guard bands passes or fails on condition). A coefficient may also be a limit: { "limitPpmPerKelvin": "50" }.
With a real meter, each check of the bench is asked for: open leads, shorted leads, no voltage, reference resistor, ambient
temperature. Then put a piece on the probes and press Enter for each reading.`;
}
