// The same means and intervals by DuckDB from the exported Parquet; t quantiles from jStat.
import { writeFileSync } from 'node:fs';
import { DuckDBInstance } from '@duckdb/node-api';
import jstat from 'jstat';

const [path, out, threads = '2'] = process.argv.slice(2);
const instance = await DuckDBInstance.create(':memory:', { threads });
const connection = await instance.connect();
const reader = await connection.runAndReadAll(`
  with sittings as (
    select rig, workload, sitting, ln(avg(value)) as log, sum(value) as total, count(*) as runs
    from read_parquet('${path}') group by rig, workload, sitting
  ), sides as (
    select rig, workload, avg(log) as log, var_samp(log) as variance, count(*)::double as n,
      sum(total) / sum(runs) as mean
    from sittings group by rig, workload
  ), pools as (
    select workload, sum(variance * (n - 1)) / sum(n - 1) as pooled, sum(n - 1) as df
    from sides group by workload
  )
  select c.rig, c.workload, b.mean as baseline_mean, c.mean as candidate_mean, b.log - c.log as log,
    sqrt(p.pooled * (1 / b.n + 1 / c.n)) as pooled_error, p.df as pooled_df,
    sqrt(b.variance / b.n + c.variance / c.n) as welch_error,
    pow(b.variance / b.n + c.variance / c.n, 2)
      / (pow(b.variance / b.n, 2) / (b.n - 1) + pow(c.variance / c.n, 2) / (c.n - 1)) as welch_df
  from sides c join sides b on b.workload = c.workload and b.rig = 'rig-000'
  join pools p on p.workload = c.workload where c.rig <> 'rig-000'`);
const quantiles = new Map();
const quantile = (df) => {
  const found = quantiles.get(df) ?? jstat.studentt.inv(0.975, df);
  quantiles.set(df, found);
  return found;
};
const rows = reader.getRowObjectsJS().map((row) => {
  const interval = (error, df) => {
    const reach = quantile(df) * error;
    return [Math.exp(row.log - reach), Math.exp(row.log + reach)];
  };
  return [
    row.rig,
    row.workload,
    row.baseline_mean,
    row.candidate_mean,
    Math.exp(row.log),
    interval(row.pooled_error, Number(row.pooled_df)),
    interval(row.welch_error, row.welch_df),
  ];
});
writeFileSync(out, JSON.stringify(rows));
console.log(JSON.stringify({ rows: rows.length, peakKibibytes: process.resourceUsage().maxRSS }));
