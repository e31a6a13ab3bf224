-- The wet lab: chemicals in stock, how baths are watched, analyses by their raw readings, additions, requests, reminders.

alter table "bath"
  add column "wasteVolumeL" double precision,
  add column "wasteCategory" text,
  add column "wasteDestination" text,
  add column "wasteDocument" text;
alter table "step_sign_off"
  add column "bathState" text,
  add column "bathReasons" text[] default array[]::text[],
  add column "overrideReason" text,
  add column "overrideById" integer;

create table "chemical" (
    "id" serial not null,
    "code" text not null,
    "name" text not null,
    "formula" text not null default '',
    "solute" text,
    "form" text not null,
    "assayMassFraction" double precision not null,
    "impurityMassFraction" double precision not null default 0,
    "densityKgPerM3" double precision,
    "hazards" text[],
    "supplier" text not null default '',
    "reorderPointKg" double precision,
    "pricePerKg" decimal(12,2),
    "sdsFileId" integer,
    "notes" text not null default '',
    "archivedAt" timestamptz(3),
    "createdAt" timestamptz(3) not null default now(),
    "version" integer not null default 1,

    constraint "chemical_pkey" primary key ("id")
);
create unique index "chemical_code_key" on "chemical"("code");
create index "chemical_sdsFileId_idx" on "chemical"("sdsFileId");

create table "chemical_lot" (
    "id" serial not null,
    "chemicalId" integer not null,
    "supplierLot" text not null,
    "receivedAt" timestamptz(3) not null,
    "receivedById" integer not null,
    "receivedKg" double precision not null,
    "assayMassFraction" double precision not null,
    "densityKgPerM3" double precision,
    "expiresOn" date,
    "status" text not null default 'open',
    "notes" text not null default '',
    "version" integer not null default 1,

    constraint "chemical_lot_pkey" primary key ("id")
);
create unique index "chemical_lot_chemicalId_supplierLot_key" on "chemical_lot"("chemicalId", "supplierLot");

create table "stock_movement" (
    "id" serial not null,
    "lotId" integer not null,
    "at" timestamptz(3) not null default now(),
    "kind" text not null,
    "kg" double precision not null,
    "balanceKg" double precision not null default 0,
    "lineId" integer,
    "reason" text not null default '',
    "personId" integer not null,

    constraint "stock_movement_pkey" primary key ("id")
);
create index "stock_movement_lotId_id_idx" on "stock_movement"("lotId", "id");
create index "stock_movement_lineId_idx" on "stock_movement"("lineId");

create table "bath_setup" (
    "id" serial not null,
    "bathId" integer not null,
    "revision" integer not null,
    "setup" jsonb not null,
    "reason" text not null,
    "setById" integer not null,
    "setAt" timestamptz(3) not null default now(),

    constraint "bath_setup_pkey" primary key ("id")
);
create unique index "bath_setup_bathId_revision_key" on "bath_setup"("bathId", "revision");

create table "analysis_method" (
    "id" serial not null,
    "code" text not null,
    "revision" integer not null,
    "status" text not null default 'draft',
    "name" text not null,
    "kind" text not null,
    "settings" jsonb not null,
    "procedure" text not null default '',
    "formula" text not null default '',
    "source" text not null,
    "changeNote" text not null default '',
    "authorId" integer,
    "createdAt" timestamptz(3) not null default now(),
    "inForceSince" timestamptz(3),
    "version" integer not null default 1,

    constraint "analysis_method_pkey" primary key ("id")
);
create unique index "analysis_method_code_revision_key" on "analysis_method"("code", "revision");

create table "instrument" (
    "id" serial not null,
    "code" text not null,
    "name" text not null,
    "kind" text not null,
    "serial" text not null default '',
    "calibrationDueOn" date,
    "notes" text not null default '',
    "archivedAt" timestamptz(3),
    "version" integer not null default 1,

    constraint "instrument_pkey" primary key ("id")
);
create unique index "instrument_code_key" on "instrument"("code");

create table "titrant_lot" (
    "id" serial not null,
    "reagent" text not null,
    "label" text not null,
    "expiresOn" date,
    "finished" boolean not null default false,
    "notes" text not null default '',
    "version" integer not null default 1,

    constraint "titrant_lot_pkey" primary key ("id")
);
create unique index "titrant_lot_label_key" on "titrant_lot"("label");

create table "standardisation" (
    "id" serial not null,
    "titrantId" integer not null,
    "eqPerLitre" double precision not null,
    "standardUncertaintyEqPerLitre" double precision not null,
    "standardisedOn" date not null,
    "byId" integer not null,
    "at" timestamptz(3) not null default now(),
    "replacesId" integer,
    "reason" text not null default '',

    constraint "standardisation_pkey" primary key ("id")
);
create unique index "standardisation_replacesId_key" on "standardisation"("replacesId");
create index "standardisation_titrantId_idx" on "standardisation"("titrantId");

create table "analysis" (
    "id" serial not null,
    "number" text not null,
    "bathId" integer not null,
    "methodId" integer not null,
    "sampledAt" timestamptz(3) not null,
    "analysedAt" timestamptz(3) not null,
    "enteredAt" timestamptz(3) not null default now(),
    "analystId" integer not null,
    "analystName" text,
    "why" text not null,
    "samplePoint" text not null default '',
    "volumeL" double precision,
    "agitation" boolean,
    "bathTemperatureC" double precision,
    "readings" jsonb not null,
    "standardisationId" integer,
    "instrumentId" integer,
    "setupRevision" integer,
    "densityKgPerM3" double precision,
    "questions" text[],
    "flags" text[],
    "answer" text not null default '',
    "notes" text not null default '',
    "calcVersion" text not null,
    "supersedesId" integer,
    "supersedeReason" text,
    "reviewedById" integer,
    "reviewedAt" timestamptz(3),

    constraint "analysis_pkey" primary key ("id")
);
create unique index "analysis_number_key" on "analysis"("number");
create unique index "analysis_supersedesId_key" on "analysis"("supersedesId");
create index "analysis_bathId_sampledAt_idx" on "analysis"("bathId", "sampledAt");
create index "analysis_sampledAt_id_idx" on "analysis"("sampledAt", "id");
create index "analysis_methodId_idx" on "analysis"("methodId");
create index "analysis_standardisationId_idx" on "analysis"("standardisationId");
create index "analysis_instrumentId_idx" on "analysis"("instrumentId");

create table "analysis_result" (
    "id" serial not null,
    "analysisId" integer not null,
    "bathId" integer not null,
    "sampledAt" timestamptz(3) not null,
    "component" text not null,
    "name" text not null,
    "value" double precision not null,
    "standardUncertainty" double precision,
    "unit" text not null,
    "referenceTemperatureC" double precision,
    "massFraction" double precision,
    "gramsPerLitre" double precision,
    "spread" double precision,
    "target" double precision,
    "low" double precision,
    "high" double precision,
    "stopLow" double precision,
    "stopHigh" double precision,
    "state" text not null,

    constraint "analysis_result_pkey" primary key ("id")
);
create index "analysis_result_bathId_component_sampledAt_idx" on "analysis_result"("bathId", "component", "sampledAt");
create unique index "analysis_result_analysisId_component_key" on "analysis_result"("analysisId", "component");

create table "addition" (
    "id" serial not null,
    "number" text not null,
    "bathId" integer not null,
    "kind" text not null,
    "state" text not null default 'planned',
    "fromAnalysisId" integer,
    "request" jsonb,
    "computed" jsonb,
    "steps" jsonb not null,
    "edited" boolean not null default false,
    "planReason" text not null default '',
    "bathVersion" integer not null,
    "plannedById" integer not null,
    "plannedAt" timestamptz(3) not null default now(),
    "doneById" integer,
    "checkedById" integer,
    "startedAt" timestamptz(3),
    "finishedAt" timestamptz(3),
    "temperatureBeforeC" double precision,
    "temperatureAfterC" double precision,
    "volumeBeforeL" double precision,
    "volumeAfterL" double precision,
    "doneReason" text not null default '',
    "notes" text not null default '',
    "withdrawnById" integer,
    "withdrawReason" text,
    "correctsId" integer,

    constraint "addition_pkey" primary key ("id")
);
create unique index "addition_number_key" on "addition"("number");
create unique index "addition_correctsId_key" on "addition"("correctsId");
create index "addition_bathId_finishedAt_idx" on "addition"("bathId", "finishedAt");
create index "addition_plannedAt_id_idx" on "addition"("plannedAt", "id");
create index "addition_fromAnalysisId_idx" on "addition"("fromAnalysisId");

create table "addition_line" (
    "id" serial not null,
    "additionId" integer not null,
    "position" integer not null,
    "action" text not null,
    "chemicalLotId" integer,
    "kg" double precision not null,
    "volumeL" double precision,
    "measured" text not null,
    "cost" decimal(14,2),
    "wasteVolumeL" double precision,
    "wasteCategory" text,
    "wasteDestination" text,
    "wasteDocument" text,

    constraint "addition_line_pkey" primary key ("id")
);
create index "addition_line_chemicalLotId_idx" on "addition_line"("chemicalLotId");
create unique index "addition_line_additionId_position_key" on "addition_line"("additionId", "position");

create table "bath_request" (
    "id" serial not null,
    "bathId" integer not null,
    "why" text not null,
    "components" text[],
    "dueAt" timestamptz(3) not null,
    "additionId" integer,
    "note" text not null default '',
    "askedById" integer not null,
    "askedAt" timestamptz(3) not null default now(),
    "closedAt" timestamptz(3),
    "closedById" integer,
    "closedByAnalysisId" integer,
    "closeReason" text,

    constraint "bath_request_pkey" primary key ("id")
);
create index "bath_request_bathId_closedAt_idx" on "bath_request"("bathId", "closedAt");
create index "bath_request_additionId_idx" on "bath_request"("additionId");
create index "bath_request_closedByAnalysisId_idx" on "bath_request"("closedByAnalysisId");

create table "chart_baseline" (
    "id" serial not null,
    "tankId" integer not null,
    "component" text not null,
    "fromAt" timestamptz(3) not null,
    "toAt" timestamptz(3) not null,
    "reason" text not null,
    "setById" integer not null,
    "setAt" timestamptz(3) not null default now(),

    constraint "chart_baseline_pkey" primary key ("id")
);
create index "chart_baseline_tankId_component_id_idx" on "chart_baseline"("tankId", "component", "id");

create table "lab_reminder" (
    "personId" integer not null,
    "email" boolean not null default false,
    "lastSentOn" date,

    constraint "lab_reminder_pkey" primary key ("personId")
);

create table "calendar_feed" (
    "id" serial not null,
    "personId" integer not null,
    "secretHash" bytea not null,
    "createdAt" timestamptz(3) not null default now(),
    "lastReadAt" timestamptz(3),
    "revokedAt" timestamptz(3),

    constraint "calendar_feed_pkey" primary key ("id")
);
create unique index "calendar_feed_secretHash_key" on "calendar_feed"("secretHash");
create index "calendar_feed_personId_idx" on "calendar_feed"("personId");

alter table "chemical" add constraint "chemical_sdsFileId_fkey" foreign key ("sdsFileId") references "file"("id") on delete set null on update cascade;
alter table "chemical_lot" add constraint "chemical_lot_chemicalId_fkey" foreign key ("chemicalId") references "chemical"("id") on delete restrict on update cascade;
alter table "stock_movement" add constraint "stock_movement_lotId_fkey" foreign key ("lotId") references "chemical_lot"("id") on delete restrict on update cascade;
alter table "stock_movement" add constraint "stock_movement_lineId_fkey" foreign key ("lineId") references "addition_line"("id") on delete set null on update cascade;
alter table "bath_setup" add constraint "bath_setup_bathId_fkey" foreign key ("bathId") references "bath"("id") on delete restrict on update cascade;
alter table "standardisation" add constraint "standardisation_titrantId_fkey" foreign key ("titrantId") references "titrant_lot"("id") on delete restrict on update cascade;
alter table "standardisation" add constraint "standardisation_replacesId_fkey" foreign key ("replacesId") references "standardisation"("id") on delete set null on update cascade;
alter table "analysis" add constraint "analysis_bathId_fkey" foreign key ("bathId") references "bath"("id") on delete restrict on update cascade;
alter table "analysis" add constraint "analysis_methodId_fkey" foreign key ("methodId") references "analysis_method"("id") on delete restrict on update cascade;
alter table "analysis" add constraint "analysis_standardisationId_fkey" foreign key ("standardisationId") references "standardisation"("id") on delete set null on update cascade;
alter table "analysis" add constraint "analysis_instrumentId_fkey" foreign key ("instrumentId") references "instrument"("id") on delete set null on update cascade;
alter table "analysis" add constraint "analysis_supersedesId_fkey" foreign key ("supersedesId") references "analysis"("id") on delete set null on update cascade;
alter table "analysis_result" add constraint "analysis_result_analysisId_fkey" foreign key ("analysisId") references "analysis"("id") on delete restrict on update cascade;
alter table "addition" add constraint "addition_bathId_fkey" foreign key ("bathId") references "bath"("id") on delete restrict on update cascade;
alter table "addition" add constraint "addition_fromAnalysisId_fkey" foreign key ("fromAnalysisId") references "analysis"("id") on delete set null on update cascade;
alter table "addition" add constraint "addition_correctsId_fkey" foreign key ("correctsId") references "addition"("id") on delete set null on update cascade;
alter table "addition_line" add constraint "addition_line_additionId_fkey" foreign key ("additionId") references "addition"("id") on delete restrict on update cascade;
alter table "addition_line" add constraint "addition_line_chemicalLotId_fkey" foreign key ("chemicalLotId") references "chemical_lot"("id") on delete set null on update cascade;
alter table "bath_request" add constraint "bath_request_bathId_fkey" foreign key ("bathId") references "bath"("id") on delete restrict on update cascade;
alter table "bath_request" add constraint "bath_request_additionId_fkey" foreign key ("additionId") references "addition"("id") on delete set null on update cascade;
alter table "bath_request" add constraint "bath_request_closedByAnalysisId_fkey" foreign key ("closedByAnalysisId") references "analysis"("id") on delete set null on update cascade;
alter table "chart_baseline" add constraint "chart_baseline_tankId_fkey" foreign key ("tankId") references "tank"("id") on delete restrict on update cascade;
alter table "lab_reminder" add constraint "lab_reminder_personId_fkey" foreign key ("personId") references "person"("id") on delete restrict on update cascade;
alter table "calendar_feed" add constraint "calendar_feed_personId_fkey" foreign key ("personId") references "person"("id") on delete restrict on update cascade;
