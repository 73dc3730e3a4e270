import type { CrossedStudy } from '../../core/study/crossed.ts';
import type { SingleStudy } from '../../core/study/single.ts';
import type { Study } from '../../core/study/study.ts';
import { ChartFrame } from '../charts/chartFrame.tsx';
import { ChartTable } from '../charts/chartTable.tsx';
import { Block } from '../sheet/sheet.tsx';
import { ohmsFigure } from '../words/ohmsFigure.ts';
import { drawsEveryReading, GroupChart, type NamedGroup } from './groupChart.tsx';
import { InteractionChart } from './interactionChart.tsx';
import '../charts/charts.css';

/** More digits than a meter gives, so that no two means look alike that are not. */
const MEAN_DIGITS = 8;

/** The usual pictures of a study, each also as a table. */
export default function StudyCharts({ study }: { study: Study }) {
  return study.design === 'crossed' ? <CrossedCharts study={study} /> : <SingleCharts study={study} />;
}

function CrossedCharts({ study }: { study: CrossedStudy }) {
  const byPiece = study.byPiece.map(({ piece, ...group }) => ({ name: piece, ...group }));
  const byOperator = study.byOperator.map(({ operator, ...group }) => ({ name: operator, ...group }));
  return (
    <Block title="Pictures" source={keyWords(byPiece)}>
      <div className="study-charts">
        <GroupFigure title="By piece" what="Piece" groups={byPiece} />
        <GroupFigure title="By operator" what="Operator" groups={byOperator} />
        <ChartFrame
          className="study-chart-wide"
          title="Interaction: means of each operator, piece by piece. Lines that run alike show none."
          table={
            <ChartTable title="Means of each piece and operator as a table">
              {() => <CellsTable study={study} />}
            </ChartTable>
          }
        >
          <InteractionChart study={study} />
        </ChartFrame>
      </div>
    </Block>
  );
}

function SingleCharts({ study }: { study: SingleStudy }) {
  const groups = study.bySession.map(({ piece, run, session, ...group }) => {
    const parts = [
      study.pieces.length > 1 && `piece ${piece}`,
      study.runs > 1 && `run ${run}`,
      (study.sessions > 1 || (study.pieces.length === 1 && study.runs === 1)) && `session ${session}`,
    ];
    return { name: parts.filter((part) => part !== false).join(', '), ...group };
  });
  return (
    <Block title="Pictures" source={keyWords(groups)}>
      <div className="study-charts">
        <GroupFigure title="By session" what="Session" groups={groups} wide />
      </div>
    </Block>
  );
}

function keyWords(groups: readonly NamedGroup[]): string {
  const ring = drawsEveryReading(groups) ? 'a reading' : 'the lowest or the highest reading of its group';
  return `A ring is ${ring}, a dot the mean of its group.`;
}

function GroupFigure(props: { title: string; what: string; groups: readonly NamedGroup[]; wide?: boolean }) {
  const { title, what, groups, wide = false } = props;
  return (
    <ChartFrame
      {...(wide && { className: 'study-chart-wide' })}
      title={title}
      table={<ChartTable title={`${title}, as a table`}>{() => <GroupTable what={what} groups={groups} />}</ChartTable>}
    >
      <GroupChart title={title} groups={groups} wide={wide} />
    </ChartFrame>
  );
}

function GroupTable({ what, groups }: { what: string; groups: readonly NamedGroup[] }) {
  return (
    <table>
      <thead>
        <tr>
          <th scope="col">{what}</th>
          <th scope="col" className="figures">
            Readings
          </th>
          <th scope="col" className="figures">
            Lowest
          </th>
          <th scope="col" className="figures">
            Mean
          </th>
          <th scope="col" className="figures">
            Highest
          </th>
        </tr>
      </thead>
      <tbody>
        {groups.map(({ name, readings, lowest, mean, highest }) => (
          <tr key={name}>
            <th scope="row">{name}</th>
            <td className="figures">{readings.length}</td>
            {[lowest, mean, highest].map((ohms, place) => (
              // biome-ignore lint/suspicious/noArrayIndexKey: three cells that do not move
              <td key={place} className="figures">
                {ohmsFigure(ohms, { significant: MEAN_DIGITS, like: mean })}
              </td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function CellsTable({ study }: { study: CrossedStudy }) {
  const meanOf = (piece: string, operator: string) =>
    study.cells.find((cell) => cell.piece === piece && cell.operator === operator)?.mean ?? 0;
  return (
    <table>
      <thead>
        <tr>
          <th scope="col">Piece</th>
          {study.operators.map((operator) => (
            <th key={operator} scope="col" className="figures">
              {operator}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {study.pieces.map((piece) => (
          <tr key={piece}>
            <th scope="row">{piece}</th>
            {study.operators.map((operator) => (
              <td key={operator} className="figures">
                {ohmsFigure(meanOf(piece, operator), { significant: MEAN_DIGITS })}
              </td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}
