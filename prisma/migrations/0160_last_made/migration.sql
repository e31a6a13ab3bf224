-- When a recipe last coloured an alloy is one look into an index, however many years of signatures there are.
create index "step_sign_off_last_coloured" on "step_sign_off" ("recipeRevisionId", "materialId", "doneAt") where "stepKind" = 'colour';
