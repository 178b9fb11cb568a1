/** A centre in a drawing, named: filled where weight acts, hollow where the water carries. */
interface CentreProps {
  readonly x: number;
  readonly y: number;
  readonly name: string;
  readonly hollow?: boolean;
}

export function Centre({ x, y, name, hollow = false }: CentreProps) {
  return (
    <g class="centre">
      <circle class={hollow ? 'hollow' : 'solid'} cx={x} cy={y} r="4" />
      <text x={x + 7} y={y + 4}>
        {name}
      </text>
    </g>
  );
}
