-- Which shipments still wait for the certificate that was promised, kept as work: Today reads what waits and not every shipment there
-- ever was. What was shipped long before certificates were kept is not asked for.
create table "certificate_due" (
  "shipmentId" integer not null,
  "since" timestamptz(3) not null default current_timestamp,
  constraint "certificate_due_pkey" primary key ("shipmentId"),
  constraint "certificate_due_shipmentId_fkey" foreign key ("shipmentId") references "shipment" ("id") on delete restrict on update cascade
);
insert into "certificate_due" ("shipmentId", "since")
select h."id", h."shippedAt"
  from "shipment" h
  join "lot" l on l."id" = h."lotId"
  join "order_line" o on o."id" = l."orderLineId" and o."certificate"
 where h."shippedAt" > now() - interval '30 days'
   and not exists (select from "certificate" c
                    where c."shipmentId" = h."id" and c."withdrawnAt" is null
                      and not exists (select from "certificate" n where n."replacesId" = c."id"));
