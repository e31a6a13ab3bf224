-- Ten years of a component are drawn from the index alone; it takes the place of the narrower one.
drop index "analysis_result_bathId_component_sampledAt_idx";
create index "analysis_result_chart" on "analysis_result" ("bathId", "component", "sampledAt", "id")
  include ("analysisId", "value", "standardUncertainty");
