export interface TableRow {
  key: string;
  /** The first is the name of the row. */
  cells: readonly string[];
  /** Stands out: there is too little. */
  short?: boolean;
}

/** Said outright, because some browsers forget that a table is one once its rows are drawn as blocks. */
export const as = (role: 'table' | 'rowgroup' | 'row' | 'columnheader' | 'rowheader' | 'cell') => ({ role });

/**
 * A small table. On a narrow screen every row stands as a block of its own and
 * each cell carries its heading.
 */
export function Table({ head, rows }: { head: readonly string[]; rows: readonly TableRow[] }) {
  return (
    <table {...as('table')} class="visit-table">
      <thead {...as('rowgroup')}>
        <tr {...as('row')}>
          {head.map((cell) => (
            <th key={cell} {...as('columnheader')} scope="col">
              {cell}
            </th>
          ))}
        </tr>
      </thead>
      <tbody {...as('rowgroup')}>
        {rows.map(({ key, cells: [name, ...rest], short }) => (
          <tr key={key} {...as('row')} class={short ? 'visit-row-short' : undefined}>
            <th {...as('rowheader')} scope="row">
              {name}
            </th>
            {rest.map((cell, i) => (
              <td key={head[i + 1]} {...as('cell')} data-head={head[i + 1]}>
                {cell}
              </td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}
