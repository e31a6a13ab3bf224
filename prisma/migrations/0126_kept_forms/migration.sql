-- What somebody typed into a form and is not done with. No record comes of it until the form itself is saved.
create table "kept_form" (
    "id" serial not null,
    "personId" integer not null,
    "path" text not null,
    "title" text not null,
    "version" integer not null default 0,
    "values" jsonb not null,
    "keptAt" timestamptz(3) not null default now(),
    constraint "kept_form_pkey" primary key ("id")
);
create unique index "kept_form_personId_path_key" on "kept_form"("personId", "path");
alter table "kept_form" add constraint "kept_form_personId_fkey" foreign key ("personId") references "person"("id") on delete restrict on update cascade;
