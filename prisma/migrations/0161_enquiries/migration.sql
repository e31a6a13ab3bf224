-- What somebody asks for, before there is a quotation, and what became of it.
create table "enquiry" (
  "id" serial not null,
  "number" text not null,
  "status" text not null default 'open',
  "customerId" integer,
  "customerName" text not null default '',
  "contact" text not null default '',
  "words" text not null,
  "colourName" text not null default '',
  "labL" double precision,
  "labA" double precision,
  "labB" double precision,
  "colourStandardId" integer,
  "baseMetal" text,
  "materialId" integer,
  "quantity" integer,
  "dueOn" date,
  "sampleName" text not null default '',
  "sampleKeptAt" text not null default '',
  "sampleDueBackOn" date,
  "sampleReturnedOn" date,
  "ownerId" integer not null,
  "seriesId" integer,
  "quotationId" integer,
  "createdById" integer not null,
  "createdAt" timestamptz(3) not null default current_timestamp,
  "version" integer not null default 1,
  constraint "enquiry_pkey" primary key ("id"),
  constraint "enquiry_customerId_fkey" foreign key ("customerId") references "customer" ("id") on delete restrict on update cascade,
  constraint "enquiry_colourStandardId_fkey" foreign key ("colourStandardId") references "colour_standard" ("id")
    on delete restrict on update cascade,
  constraint "enquiry_materialId_fkey" foreign key ("materialId") references "material" ("id") on delete restrict on update cascade,
  constraint "enquiry_seriesId_fkey" foreign key ("seriesId") references "coupon_series" ("id") on delete set null on update cascade,
  constraint "enquiry_quotationId_fkey" foreign key ("quotationId") references "quotation" ("id") on delete restrict on update cascade,
  constraint "enquiry_status" check ("status" in ('open', 'trial-asked', 'quoted', 'declined')),
  constraint "enquiry_asker" check (("customerId" is null) = ("customerName" <> '')),
  constraint "enquiry_colour" check (
    num_nulls("labL", "labA", "labB") in (0, 3) and "labL" between 0 and 100 and abs("labA") <= 200 and abs("labB") <= 200),
  constraint "enquiry_quoted" check (("status" = 'quoted') = ("quotationId" is not null)),
  constraint "enquiry_sample" check (
    "sampleName" <> '' or ("sampleKeptAt" = '' and "sampleDueBackOn" is null and "sampleReturnedOn" is null))
);
create unique index "enquiry_number_key" on "enquiry" ("number");
create unique index "enquiry_quotationId_key" on "enquiry" ("quotationId");
create index "enquiry_customerId_idx" on "enquiry" ("customerId");
create index "enquiry_status_createdAt_idx" on "enquiry" ("status", "createdAt");
create index "enquiry_colourStandardId_idx" on "enquiry" ("colourStandardId");
create index "enquiry_materialId_idx" on "enquiry" ("materialId");
create index "enquiry_seriesId_idx" on "enquiry" ("seriesId");
create index "enquiry_sample_out" on "enquiry" ("sampleDueBackOn") where "sampleName" <> '' and "sampleReturnedOn" is null;

create table "enquiry_picture" (
  "enquiryId" integer not null,
  "fileId" integer not null,
  "position" integer not null,
  constraint "enquiry_picture_pkey" primary key ("enquiryId", "fileId"),
  constraint "enquiry_picture_enquiryId_fkey" foreign key ("enquiryId") references "enquiry" ("id") on delete restrict on update cascade,
  constraint "enquiry_picture_fileId_fkey" foreign key ("fileId") references "file" ("id") on delete restrict on update cascade
);
create index "enquiry_picture_fileId_idx" on "enquiry_picture" ("fileId");

create table "enquiry_decision" (
  "id" serial not null,
  "enquiryId" integer not null,
  "status" text not null,
  "reason" text not null,
  "record" text not null default '',
  "personId" integer not null,
  "at" timestamptz(3) not null default current_timestamp,
  "snapshot" jsonb not null default '{}',
  constraint "enquiry_decision_pkey" primary key ("id"),
  constraint "enquiry_decision_enquiryId_fkey" foreign key ("enquiryId") references "enquiry" ("id") on delete restrict on update cascade,
  constraint "enquiry_decision_status" check ("status" in ('open', 'trial-asked', 'quoted', 'declined')),
  constraint "enquiry_decision_reason" check ("reason" <> '')
);
create index "enquiry_decision_enquiryId_idx" on "enquiry_decision" ("enquiryId");
create trigger write_snapshot before insert on "enquiry_decision" for each row
  execute function take_snapshot('by person personId');
create trigger enquiry_decision_stands before update or delete on "enquiry_decision"
  for each row execute function refuse_change('what became of an enquiry');
create trigger never_emptied before truncate on "enquiry_decision"
  for each statement execute function refuse_truncate();

insert into "number_series" ("kind", "prefix") values ('enquiry', 'E-');

select chain_writes_of('enquiry_decision');
