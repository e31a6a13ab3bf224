-- CreateTable
CREATE TABLE "audit_entry" (
    "id" BIGSERIAL NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "personId" INTEGER,
    "personName" TEXT NOT NULL,
    "roles" TEXT[],
    "address" TEXT,
    "action" TEXT NOT NULL,
    "recordKind" TEXT NOT NULL,
    "recordId" INTEGER NOT NULL,
    "recordNumber" TEXT,
    "changes" JSONB NOT NULL DEFAULT '[]',
    "reason" TEXT,

    CONSTRAINT "audit_entry_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "customer" (
    "id" SERIAL NOT NULL,
    "number" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "currency" TEXT NOT NULL,
    "taxNumber" TEXT NOT NULL DEFAULT '',
    "taxRatePercent" DECIMAL(6,3) NOT NULL DEFAULT 0,
    "terms" TEXT NOT NULL DEFAULT '',
    "notes" TEXT NOT NULL DEFAULT '',
    "archivedAt" TIMESTAMPTZ(3),
    "mergedIntoId" INTEGER,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "customer_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "customer_contact" (
    "id" SERIAL NOT NULL,
    "customerId" INTEGER NOT NULL,
    "position" INTEGER NOT NULL,
    "name" TEXT NOT NULL,
    "role" TEXT NOT NULL DEFAULT '',
    "email" TEXT NOT NULL DEFAULT '',
    "phone" TEXT NOT NULL DEFAULT '',

    CONSTRAINT "customer_contact_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "customer_address" (
    "id" SERIAL NOT NULL,
    "customerId" INTEGER NOT NULL,
    "position" INTEGER NOT NULL,
    "kind" TEXT NOT NULL,
    "lines" TEXT NOT NULL,

    CONSTRAINT "customer_address_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "lot" (
    "id" SERIAL NOT NULL,
    "number" TEXT NOT NULL,
    "orderLineId" INTEGER NOT NULL,
    "partId" INTEGER NOT NULL,
    "recipeRevisionId" INTEGER NOT NULL,
    "quantity" INTEGER NOT NULL,
    "status" TEXT NOT NULL DEFAULT 'released',
    "held" BOOLEAN NOT NULL DEFAULT false,
    "rackId" INTEGER,
    "supplyId" INTEGER,
    "tanks" JSONB NOT NULL,
    "dueDate" DATE NOT NULL,
    "priority" INTEGER NOT NULL DEFAULT 0,
    "plannedStartAt" TIMESTAMPTZ(3),
    "plannedEndAt" TIMESTAMPTZ(3),
    "acceptedCount" INTEGER NOT NULL DEFAULT 0,
    "rejectedCount" INTEGER NOT NULL DEFAULT 0,
    "shippedCount" INTEGER NOT NULL DEFAULT 0,
    "createdById" INTEGER NOT NULL,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "lot_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "lot_hold" (
    "id" SERIAL NOT NULL,
    "lotId" INTEGER NOT NULL,
    "reason" TEXT NOT NULL,
    "signOffId" INTEGER,
    "placedById" INTEGER NOT NULL,
    "placedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "releasedById" INTEGER,
    "releasedAt" TIMESTAMPTZ(3),
    "releaseReason" TEXT,

    CONSTRAINT "lot_hold_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "final_check" (
    "id" SERIAL NOT NULL,
    "lotId" INTEGER NOT NULL,
    "travelerId" INTEGER NOT NULL,
    "acceptedCount" INTEGER NOT NULL,
    "rejectedCount" INTEGER NOT NULL,
    "reworkCount" INTEGER NOT NULL DEFAULT 0,
    "reason" TEXT NOT NULL DEFAULT '',
    "notes" TEXT NOT NULL DEFAULT '',
    "checkedById" INTEGER NOT NULL,
    "checkedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "final_check_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "shipment" (
    "id" SERIAL NOT NULL,
    "number" TEXT NOT NULL,
    "lotId" INTEGER NOT NULL,
    "quantity" INTEGER NOT NULL,
    "carrier" TEXT NOT NULL DEFAULT '',
    "document" TEXT NOT NULL DEFAULT '',
    "notes" TEXT NOT NULL DEFAULT '',
    "shippedById" INTEGER NOT NULL,
    "shippedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "shipment_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "material" (
    "id" SERIAL NOT NULL,
    "name" TEXT NOT NULL,
    "designation" TEXT NOT NULL DEFAULT '',
    "condition" TEXT NOT NULL DEFAULT '',
    "baseMetal" TEXT NOT NULL,
    "densityKgPerM3" DOUBLE PRECISION NOT NULL,
    "heatCapacityJPerKgK" DOUBLE PRECISION NOT NULL,
    "source" TEXT NOT NULL,
    "evidence" TEXT NOT NULL,
    "notes" TEXT NOT NULL DEFAULT '',
    "archivedAt" TIMESTAMPTZ(3),
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "material_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "customer_order" (
    "id" SERIAL NOT NULL,
    "number" TEXT NOT NULL,
    "customerId" INTEGER NOT NULL,
    "quotationRevisionId" INTEGER,
    "customerOrderNumber" TEXT NOT NULL DEFAULT '',
    "status" TEXT NOT NULL DEFAULT 'open',
    "currency" TEXT NOT NULL,
    "notes" TEXT NOT NULL DEFAULT '',
    "createdById" INTEGER NOT NULL,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "customer_order_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "order_line" (
    "id" SERIAL NOT NULL,
    "orderId" INTEGER NOT NULL,
    "position" INTEGER NOT NULL,
    "partId" INTEGER NOT NULL,
    "recipeRevisionId" INTEGER NOT NULL,
    "quotationLineId" INTEGER,
    "rackId" INTEGER,
    "supplyId" INTEGER,
    "quantity" INTEGER NOT NULL,
    "totalPrice" DECIMAL(14,2) NOT NULL,
    "unitPrice" DECIMAL(16,4) NOT NULL,
    "dueDate" DATE NOT NULL,
    "receivedCount" INTEGER,
    "receivedAt" TIMESTAMPTZ(3),
    "receivedById" INTEGER,
    "certificate" BOOLEAN NOT NULL DEFAULT false,
    "inspectionLevel" TEXT NOT NULL DEFAULT '',
    "notes" TEXT NOT NULL DEFAULT '',
    "cancelledAt" TIMESTAMPTZ(3),
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "order_line_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "part" (
    "id" SERIAL NOT NULL,
    "customerId" INTEGER NOT NULL,
    "number" TEXT NOT NULL,
    "revision" TEXT NOT NULL,
    "description" TEXT NOT NULL DEFAULT '',
    "materialId" INTEGER NOT NULL,
    "conditionReceived" TEXT NOT NULL DEFAULT '',
    "widthMm" DOUBLE PRECISION,
    "heightMm" DOUBLE PRECISION,
    "depthMm" DOUBLE PRECISION,
    "massKg" DOUBLE PRECISION,
    "massMethod" TEXT NOT NULL DEFAULT 'typed',
    "geometryKind" TEXT NOT NULL,
    "geometry" JSONB NOT NULL,
    "areaMm2" DOUBLE PRECISION NOT NULL,
    "electricalAreaMm2" DOUBLE PRECISION NOT NULL,
    "coatedAreaMm2" DOUBLE PRECISION NOT NULL,
    "maskedAreaMm2" DOUBLE PRECISION NOT NULL DEFAULT 0,
    "contactAreaMm2" DOUBLE PRECISION NOT NULL DEFAULT 0,
    "roughnessFactor" DOUBLE PRECISION NOT NULL DEFAULT 1,
    "volumeMm3" DOUBLE PRECISION,
    "areaMethod" TEXT NOT NULL,
    "areaFoundById" INTEGER NOT NULL,
    "areaFoundAt" TIMESTAMPTZ(3) NOT NULL,
    "colourKind" TEXT NOT NULL DEFAULT 'none',
    "colourSample" TEXT NOT NULL DEFAULT '',
    "colourL" DOUBLE PRECISION,
    "colourA" DOUBLE PRECISION,
    "colourB" DOUBLE PRECISION,
    "toleranceDeltaE" DOUBLE PRECISION,
    "specification" TEXT NOT NULL DEFAULT '',
    "specificationRevision" TEXT NOT NULL DEFAULT '',
    "significantSurfaces" TEXT NOT NULL DEFAULT '',
    "contactMarks" TEXT NOT NULL DEFAULT '',
    "maskingNotes" TEXT NOT NULL DEFAULT '',
    "maskingFeatures" INTEGER NOT NULL DEFAULT 0,
    "dimensionAllowance" TEXT NOT NULL DEFAULT '',
    "handling" TEXT NOT NULL DEFAULT '',
    "notes" TEXT NOT NULL DEFAULT '',
    "successorId" INTEGER,
    "archivedAt" TIMESTAMPTZ(3),
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "part_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "part_file" (
    "id" SERIAL NOT NULL,
    "partId" INTEGER NOT NULL,
    "fileId" INTEGER NOT NULL,
    "kind" TEXT NOT NULL,
    "caption" TEXT NOT NULL DEFAULT '',

    CONSTRAINT "part_file_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "measurement" (
    "id" SERIAL NOT NULL,
    "fileId" INTEGER NOT NULL,
    "unit" TEXT NOT NULL,
    "status" TEXT NOT NULL,
    "progress" DOUBLE PRECISION NOT NULL DEFAULT 0,
    "result" JSONB,
    "fault" TEXT,
    "preview" BYTEA,
    "cancelRequested" BOOLEAN NOT NULL DEFAULT false,
    "heartbeatAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "createdById" INTEGER NOT NULL,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "measurement_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "person" (
    "id" SERIAL NOT NULL,
    "name" TEXT NOT NULL,
    "displayName" TEXT NOT NULL,
    "email" TEXT,
    "passwordHash" TEXT,
    "pinHash" TEXT,
    "roles" TEXT[],
    "active" BOOLEAN NOT NULL DEFAULT true,
    "units" TEXT NOT NULL DEFAULT 'metric',
    "theme" TEXT NOT NULL DEFAULT 'system',
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "passwordChangedAt" TIMESTAMPTZ(3),
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "person_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "sign_in" (
    "id" SERIAL NOT NULL,
    "tokenHash" BYTEA NOT NULL,
    "personId" INTEGER NOT NULL,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "lastSeenAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "endedAt" TIMESTAMPTZ(3),
    "address" TEXT NOT NULL,
    "agent" TEXT NOT NULL,

    CONSTRAINT "sign_in_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "one_time_link" (
    "id" SERIAL NOT NULL,
    "tokenHash" BYTEA NOT NULL,
    "kind" TEXT NOT NULL,
    "personId" INTEGER,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "createdById" INTEGER,
    "expiresAt" TIMESTAMPTZ(3) NOT NULL,
    "usedAt" TIMESTAMPTZ(3),

    CONSTRAINT "one_time_link_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "sign_in_failure" (
    "id" SERIAL NOT NULL,
    "name" TEXT NOT NULL,
    "address" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "sign_in_failure_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "answered" (
    "personId" INTEGER NOT NULL,
    "key" TEXT NOT NULL,
    "requestHash" BYTEA NOT NULL,
    "status" INTEGER NOT NULL,
    "reply" JSONB NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "answered_pkey" PRIMARY KEY ("personId","key")
);

-- CreateTable
CREATE TABLE "quotation" (
    "id" SERIAL NOT NULL,
    "number" TEXT NOT NULL,
    "customerId" INTEGER NOT NULL,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "createdById" INTEGER NOT NULL,

    CONSTRAINT "quotation_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "quotation_revision" (
    "id" SERIAL NOT NULL,
    "quotationId" INTEGER NOT NULL,
    "revision" INTEGER NOT NULL,
    "status" TEXT NOT NULL DEFAULT 'draft',
    "contactName" TEXT NOT NULL DEFAULT '',
    "enquiryReference" TEXT NOT NULL DEFAULT '',
    "validUntil" DATE NOT NULL,
    "leadTimeDays" INTEGER NOT NULL,
    "currency" TEXT NOT NULL,
    "taxRatePercent" DECIMAL(6,3) NOT NULL,
    "terms" TEXT NOT NULL DEFAULT '',
    "customerNotes" TEXT NOT NULL DEFAULT '',
    "internalNotes" TEXT NOT NULL DEFAULT '',
    "rateCardId" INTEGER NOT NULL,
    "calcVersion" TEXT NOT NULL,
    "createdById" INTEGER NOT NULL,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "sentAt" TIMESTAMPTZ(3),
    "sentById" INTEGER,
    "decidedAt" TIMESTAMPTZ(3),
    "decidedById" INTEGER,
    "decisionReason" TEXT,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "quotation_revision_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "quotation_line" (
    "id" SERIAL NOT NULL,
    "revisionId" INTEGER NOT NULL,
    "position" INTEGER NOT NULL,
    "partId" INTEGER NOT NULL,
    "recipeRevisionId" INTEGER NOT NULL,
    "rackId" INTEGER,
    "supplyId" INTEGER,
    "options" JSONB NOT NULL,
    "inputs" JSONB NOT NULL,

    CONSTRAINT "quotation_line_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "quotation_break" (
    "id" SERIAL NOT NULL,
    "lineId" INTEGER NOT NULL,
    "quantity" INTEGER NOT NULL,
    "totalPrice" DECIMAL(14,2) NOT NULL,
    "unitPrice" DECIMAL(16,4) NOT NULL,
    "loads" INTEGER NOT NULL,
    "buildUp" JSONB NOT NULL,

    CONSTRAINT "quotation_break_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "recipe" (
    "id" SERIAL NOT NULL,
    "number" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "family" TEXT NOT NULL,
    "baseMetals" TEXT[],
    "colour" TEXT NOT NULL DEFAULT '',
    "notes" TEXT NOT NULL DEFAULT '',
    "archivedAt" TIMESTAMPTZ(3),
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "recipe_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "recipe_revision" (
    "id" SERIAL NOT NULL,
    "recipeId" INTEGER NOT NULL,
    "revision" INTEGER NOT NULL,
    "status" TEXT NOT NULL DEFAULT 'draft',
    "changeNote" TEXT NOT NULL DEFAULT '',
    "authorId" INTEGER NOT NULL,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "approvedById" INTEGER,
    "approvedAt" TIMESTAMPTZ(3),
    "supersededAt" TIMESTAMPTZ(3),
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "recipe_revision_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "recipe_step" (
    "id" SERIAL NOT NULL,
    "revisionId" INTEGER NOT NULL,
    "position" INTEGER NOT NULL,
    "kind" TEXT NOT NULL,
    "title" TEXT NOT NULL,
    "instructions" TEXT NOT NULL DEFAULT '',
    "contents" TEXT,
    "durationS" INTEGER NOT NULL,
    "dripS" INTEGER NOT NULL DEFAULT 0,
    "settings" JSONB NOT NULL DEFAULT '[]',
    "electrical" JSONB,
    "cautions" TEXT[],
    "record" TEXT[],

    CONSTRAINT "recipe_step_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "shop" (
    "id" INTEGER NOT NULL DEFAULT 1,
    "name" TEXT NOT NULL DEFAULT '',
    "address" TEXT NOT NULL DEFAULT '',
    "contact" TEXT NOT NULL DEFAULT '',
    "timeZone" TEXT NOT NULL DEFAULT 'UTC',
    "currency" TEXT NOT NULL DEFAULT 'EUR',
    "quotationValidityDays" INTEGER NOT NULL DEFAULT 30,
    "leadTimeDays" INTEGER NOT NULL DEFAULT 10,
    "terms" TEXT NOT NULL DEFAULT '',
    "retentionYears" INTEGER NOT NULL DEFAULT 10,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "shop_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "number_series" (
    "kind" TEXT NOT NULL,
    "prefix" TEXT NOT NULL,
    "digits" INTEGER NOT NULL DEFAULT 5,
    "next" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "number_series_pkey" PRIMARY KEY ("kind")
);

-- CreateTable
CREATE TABLE "file" (
    "id" SERIAL NOT NULL,
    "name" TEXT NOT NULL,
    "mediaType" TEXT NOT NULL,
    "sizeBytes" INTEGER NOT NULL,
    "sha256" BYTEA NOT NULL,
    "createdById" INTEGER NOT NULL,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "file_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "file_chunk" (
    "fileId" INTEGER NOT NULL,
    "seq" INTEGER NOT NULL,
    "bytes" BYTEA NOT NULL,

    CONSTRAINT "file_chunk_pkey" PRIMARY KEY ("fileId","seq")
);

-- CreateTable
CREATE TABLE "tank" (
    "id" SERIAL NOT NULL,
    "code" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "contents" TEXT NOT NULL,
    "insideLengthMm" DOUBLE PRECISION NOT NULL,
    "insideWidthMm" DOUBLE PRECISION NOT NULL,
    "insideDepthMm" DOUBLE PRECISION NOT NULL,
    "workingVolumeL" DOUBLE PRECISION NOT NULL,
    "heaterKw" DOUBLE PRECISION NOT NULL DEFAULT 0,
    "coolerKw" DOUBLE PRECISION NOT NULL DEFAULT 0,
    "cover" TEXT NOT NULL DEFAULT 'none',
    "temperatureMinC" DOUBLE PRECISION,
    "temperatureMaxC" DOUBLE PRECISION,
    "lineOrder" INTEGER NOT NULL DEFAULT 0,
    "notes" TEXT NOT NULL DEFAULT '',
    "archivedAt" TIMESTAMPTZ(3),
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "tank_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "bath" (
    "id" SERIAL NOT NULL,
    "number" TEXT NOT NULL,
    "tankId" INTEGER NOT NULL,
    "contents" TEXT NOT NULL,
    "madeUpAt" TIMESTAMPTZ(3) NOT NULL,
    "madeUpById" INTEGER NOT NULL,
    "dumpedAt" TIMESTAMPTZ(3),
    "dumpedById" INTEGER,
    "dumpReason" TEXT,
    "notes" TEXT NOT NULL DEFAULT '',
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "bath_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "power_supply" (
    "id" SERIAL NOT NULL,
    "code" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "maxVoltageV" DOUBLE PRECISION NOT NULL,
    "maxCurrentA" DOUBLE PRECISION NOT NULL,
    "efficiency" DOUBLE PRECISION NOT NULL,
    "notes" TEXT NOT NULL DEFAULT '',
    "archivedAt" TIMESTAMPTZ(3),
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "power_supply_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "power_supply_tank" (
    "supplyId" INTEGER NOT NULL,
    "tankId" INTEGER NOT NULL,

    CONSTRAINT "power_supply_tank_pkey" PRIMARY KEY ("supplyId","tankId")
);

-- CreateTable
CREATE TABLE "rack" (
    "id" SERIAL NOT NULL,
    "code" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "baseMetal" TEXT NOT NULL,
    "hooks" INTEGER,
    "windowWidthMm" DOUBLE PRECISION NOT NULL,
    "windowHeightMm" DOUBLE PRECISION NOT NULL,
    "layers" INTEGER NOT NULL DEFAULT 1,
    "gapMm" DOUBLE PRECISION NOT NULL,
    "maxLoadKg" DOUBLE PRECISION NOT NULL,
    "massKg" DOUBLE PRECISION NOT NULL DEFAULT 0,
    "bareAreaMm2" DOUBLE PRECISION NOT NULL DEFAULT 0,
    "notes" TEXT NOT NULL DEFAULT '',
    "archivedAt" TIMESTAMPTZ(3),
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "rack_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "rate_card" (
    "id" SERIAL NOT NULL,
    "revision" INTEGER NOT NULL,
    "rates" JSONB NOT NULL,
    "note" TEXT NOT NULL DEFAULT '',
    "createdById" INTEGER NOT NULL,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "rate_card_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "traveler" (
    "id" SERIAL NOT NULL,
    "number" TEXT NOT NULL,
    "revision" INTEGER NOT NULL,
    "lotId" INTEGER NOT NULL,
    "kind" TEXT NOT NULL DEFAULT 'first',
    "reworkOfId" INTEGER,
    "status" TEXT NOT NULL DEFAULT 'issued',
    "quantity" INTEGER NOT NULL,
    "recipeRevisionId" INTEGER NOT NULL,
    "frozen" JSONB NOT NULL,
    "changeNote" TEXT NOT NULL DEFAULT '',
    "issuedById" INTEGER NOT NULL,
    "issuedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "traveler_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "traveler_step" (
    "id" SERIAL NOT NULL,
    "travelerId" INTEGER NOT NULL,
    "position" INTEGER NOT NULL,
    "kind" TEXT NOT NULL,
    "title" TEXT NOT NULL,
    "instructions" TEXT NOT NULL DEFAULT '',
    "contents" TEXT,
    "tankId" INTEGER,
    "supplyId" INTEGER,
    "durationS" INTEGER NOT NULL,
    "dripS" INTEGER NOT NULL DEFAULT 0,
    "settings" JSONB NOT NULL,
    "electrical" JSONB,
    "cautions" TEXT[],
    "record" TEXT[],

    CONSTRAINT "traveler_step_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "step_sign_off" (
    "id" SERIAL NOT NULL,
    "stepId" INTEGER NOT NULL,
    "lotId" INTEGER NOT NULL,
    "partId" INTEGER NOT NULL,
    "materialId" INTEGER NOT NULL,
    "recipeRevisionId" INTEGER NOT NULL,
    "stepKind" TEXT NOT NULL,
    "personId" INTEGER NOT NULL,
    "doneAt" TIMESTAMPTZ(3) NOT NULL,
    "enteredAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "tankId" INTEGER,
    "bathId" INTEGER,
    "supplyId" INTEGER,
    "countIn" INTEGER NOT NULL,
    "countOut" INTEGER NOT NULL,
    "rejectCount" INTEGER NOT NULL DEFAULT 0,
    "outside" BOOLEAN NOT NULL DEFAULT false,
    "reason" TEXT NOT NULL DEFAULT '',
    "note" TEXT NOT NULL DEFAULT '',

    CONSTRAINT "step_sign_off_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "step_reading" (
    "id" SERIAL NOT NULL,
    "signOffId" INTEGER NOT NULL,
    "quantity" TEXT NOT NULL,
    "value" DOUBLE PRECISION NOT NULL,
    "target" DOUBLE PRECISION,
    "low" DOUBLE PRECISION,
    "high" DOUBLE PRECISION,
    "outside" BOOLEAN NOT NULL DEFAULT false,
    "instrument" TEXT NOT NULL DEFAULT '',

    CONSTRAINT "step_reading_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "step_correction" (
    "id" SERIAL NOT NULL,
    "signOffId" INTEGER NOT NULL,
    "quantity" TEXT NOT NULL,
    "oldValue" DOUBLE PRECISION,
    "newValue" DOUBLE PRECISION NOT NULL,
    "reason" TEXT NOT NULL,
    "correctedById" INTEGER NOT NULL,
    "correctedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "step_correction_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE INDEX "audit_entry_recordKind_recordId_id_idx" ON "audit_entry"("recordKind", "recordId", "id");

-- CreateIndex
CREATE INDEX "audit_entry_at_idx" ON "audit_entry"("at");

-- CreateIndex
CREATE INDEX "audit_entry_personId_id_idx" ON "audit_entry"("personId", "id");

-- CreateIndex
CREATE UNIQUE INDEX "customer_number_key" ON "customer"("number");

-- CreateIndex
CREATE INDEX "customer_name_id_idx" ON "customer"("name", "id");

-- CreateIndex
CREATE INDEX "customer_contact_customerId_idx" ON "customer_contact"("customerId");

-- CreateIndex
CREATE INDEX "customer_address_customerId_idx" ON "customer_address"("customerId");

-- CreateIndex
CREATE UNIQUE INDEX "lot_number_key" ON "lot"("number");

-- CreateIndex
CREATE INDEX "lot_orderLineId_idx" ON "lot"("orderLineId");

-- CreateIndex
CREATE INDEX "lot_partId_idx" ON "lot"("partId");

-- CreateIndex
CREATE INDEX "lot_recipeRevisionId_idx" ON "lot"("recipeRevisionId");

-- CreateIndex
CREATE INDEX "lot_status_dueDate_id_idx" ON "lot"("status", "dueDate", "id");

-- CreateIndex
CREATE INDEX "lot_createdAt_idx" ON "lot"("createdAt");

-- CreateIndex
CREATE INDEX "lot_hold_lotId_idx" ON "lot_hold"("lotId");

-- CreateIndex
CREATE INDEX "final_check_lotId_idx" ON "final_check"("lotId");

-- CreateIndex
CREATE UNIQUE INDEX "shipment_number_key" ON "shipment"("number");

-- CreateIndex
CREATE INDEX "shipment_lotId_idx" ON "shipment"("lotId");

-- CreateIndex
CREATE UNIQUE INDEX "material_name_condition_key" ON "material"("name", "condition");

-- CreateIndex
CREATE UNIQUE INDEX "customer_order_number_key" ON "customer_order"("number");

-- CreateIndex
CREATE INDEX "customer_order_customerId_idx" ON "customer_order"("customerId");

-- CreateIndex
CREATE INDEX "customer_order_quotationRevisionId_idx" ON "customer_order"("quotationRevisionId");

-- CreateIndex
CREATE INDEX "customer_order_status_id_idx" ON "customer_order"("status", "id");

-- CreateIndex
CREATE INDEX "order_line_partId_idx" ON "order_line"("partId");

-- CreateIndex
CREATE INDEX "order_line_recipeRevisionId_idx" ON "order_line"("recipeRevisionId");

-- CreateIndex
CREATE INDEX "order_line_quotationLineId_idx" ON "order_line"("quotationLineId");

-- CreateIndex
CREATE UNIQUE INDEX "order_line_orderId_position_key" ON "order_line"("orderId", "position");

-- CreateIndex
CREATE UNIQUE INDEX "part_successorId_key" ON "part"("successorId");

-- CreateIndex
CREATE INDEX "part_materialId_idx" ON "part"("materialId");

-- CreateIndex
CREATE UNIQUE INDEX "part_customerId_number_revision_key" ON "part"("customerId", "number", "revision");

-- CreateIndex
CREATE INDEX "part_file_fileId_idx" ON "part_file"("fileId");

-- CreateIndex
CREATE UNIQUE INDEX "part_file_partId_fileId_key" ON "part_file"("partId", "fileId");

-- CreateIndex
CREATE INDEX "measurement_fileId_idx" ON "measurement"("fileId");

-- CreateIndex
CREATE UNIQUE INDEX "sign_in_tokenHash_key" ON "sign_in"("tokenHash");

-- CreateIndex
CREATE INDEX "sign_in_personId_idx" ON "sign_in"("personId");

-- CreateIndex
CREATE UNIQUE INDEX "one_time_link_tokenHash_key" ON "one_time_link"("tokenHash");

-- CreateIndex
CREATE INDEX "one_time_link_personId_idx" ON "one_time_link"("personId");

-- CreateIndex
CREATE INDEX "sign_in_failure_name_at_idx" ON "sign_in_failure"("name", "at");

-- CreateIndex
CREATE INDEX "sign_in_failure_address_at_idx" ON "sign_in_failure"("address", "at");

-- CreateIndex
CREATE INDEX "answered_at_idx" ON "answered"("at");

-- CreateIndex
CREATE UNIQUE INDEX "quotation_number_key" ON "quotation"("number");

-- CreateIndex
CREATE INDEX "quotation_customerId_idx" ON "quotation"("customerId");

-- CreateIndex
CREATE INDEX "quotation_revision_status_validUntil_idx" ON "quotation_revision"("status", "validUntil");

-- CreateIndex
CREATE UNIQUE INDEX "quotation_revision_quotationId_revision_key" ON "quotation_revision"("quotationId", "revision");

-- CreateIndex
CREATE INDEX "quotation_line_partId_idx" ON "quotation_line"("partId");

-- CreateIndex
CREATE INDEX "quotation_line_recipeRevisionId_idx" ON "quotation_line"("recipeRevisionId");

-- CreateIndex
CREATE UNIQUE INDEX "quotation_line_revisionId_position_key" ON "quotation_line"("revisionId", "position");

-- CreateIndex
CREATE UNIQUE INDEX "quotation_break_lineId_quantity_key" ON "quotation_break"("lineId", "quantity");

-- CreateIndex
CREATE UNIQUE INDEX "recipe_number_key" ON "recipe"("number");

-- CreateIndex
CREATE UNIQUE INDEX "recipe_revision_recipeId_revision_key" ON "recipe_revision"("recipeId", "revision");

-- CreateIndex
CREATE UNIQUE INDEX "recipe_step_revisionId_position_key" ON "recipe_step"("revisionId", "position");

-- CreateIndex
CREATE UNIQUE INDEX "tank_code_key" ON "tank"("code");

-- CreateIndex
CREATE UNIQUE INDEX "bath_number_key" ON "bath"("number");

-- CreateIndex
CREATE INDEX "bath_tankId_madeUpAt_idx" ON "bath"("tankId", "madeUpAt");

-- CreateIndex
CREATE UNIQUE INDEX "power_supply_code_key" ON "power_supply"("code");

-- CreateIndex
CREATE INDEX "power_supply_tank_tankId_idx" ON "power_supply_tank"("tankId");

-- CreateIndex
CREATE UNIQUE INDEX "rack_code_key" ON "rack"("code");

-- CreateIndex
CREATE UNIQUE INDEX "rate_card_revision_key" ON "rate_card"("revision");

-- CreateIndex
CREATE INDEX "traveler_lotId_idx" ON "traveler"("lotId");

-- CreateIndex
CREATE INDEX "traveler_reworkOfId_idx" ON "traveler"("reworkOfId");

-- CreateIndex
CREATE UNIQUE INDEX "traveler_number_revision_key" ON "traveler"("number", "revision");

-- CreateIndex
CREATE INDEX "traveler_step_tankId_idx" ON "traveler_step"("tankId");

-- CreateIndex
CREATE UNIQUE INDEX "traveler_step_travelerId_position_key" ON "traveler_step"("travelerId", "position");

-- CreateIndex
CREATE UNIQUE INDEX "step_sign_off_stepId_key" ON "step_sign_off"("stepId");

-- CreateIndex
CREATE INDEX "step_sign_off_lotId_idx" ON "step_sign_off"("lotId");

-- CreateIndex
CREATE INDEX "step_sign_off_personId_doneAt_idx" ON "step_sign_off"("personId", "doneAt");

-- CreateIndex
CREATE INDEX "step_sign_off_tankId_doneAt_idx" ON "step_sign_off"("tankId", "doneAt");

-- CreateIndex
CREATE INDEX "step_sign_off_bathId_idx" ON "step_sign_off"("bathId");

-- CreateIndex
CREATE INDEX "step_sign_off_recipeRevisionId_doneAt_idx" ON "step_sign_off"("recipeRevisionId", "doneAt");

-- CreateIndex
CREATE INDEX "step_sign_off_partId_doneAt_idx" ON "step_sign_off"("partId", "doneAt");

-- CreateIndex
CREATE INDEX "step_sign_off_materialId_doneAt_idx" ON "step_sign_off"("materialId", "doneAt");

-- CreateIndex
CREATE INDEX "step_sign_off_doneAt_idx" ON "step_sign_off"("doneAt");

-- CreateIndex
CREATE INDEX "step_reading_quantity_value_idx" ON "step_reading"("quantity", "value");

-- CreateIndex
CREATE UNIQUE INDEX "step_reading_signOffId_quantity_key" ON "step_reading"("signOffId", "quantity");

-- CreateIndex
CREATE INDEX "step_correction_signOffId_idx" ON "step_correction"("signOffId");

-- AddForeignKey
ALTER TABLE "customer" ADD CONSTRAINT "customer_mergedIntoId_fkey" FOREIGN KEY ("mergedIntoId") REFERENCES "customer"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "customer_contact" ADD CONSTRAINT "customer_contact_customerId_fkey" FOREIGN KEY ("customerId") REFERENCES "customer"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "customer_address" ADD CONSTRAINT "customer_address_customerId_fkey" FOREIGN KEY ("customerId") REFERENCES "customer"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "lot" ADD CONSTRAINT "lot_orderLineId_fkey" FOREIGN KEY ("orderLineId") REFERENCES "order_line"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "lot" ADD CONSTRAINT "lot_partId_fkey" FOREIGN KEY ("partId") REFERENCES "part"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "lot" ADD CONSTRAINT "lot_recipeRevisionId_fkey" FOREIGN KEY ("recipeRevisionId") REFERENCES "recipe_revision"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "lot_hold" ADD CONSTRAINT "lot_hold_lotId_fkey" FOREIGN KEY ("lotId") REFERENCES "lot"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "final_check" ADD CONSTRAINT "final_check_lotId_fkey" FOREIGN KEY ("lotId") REFERENCES "lot"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "shipment" ADD CONSTRAINT "shipment_lotId_fkey" FOREIGN KEY ("lotId") REFERENCES "lot"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "customer_order" ADD CONSTRAINT "customer_order_customerId_fkey" FOREIGN KEY ("customerId") REFERENCES "customer"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "customer_order" ADD CONSTRAINT "customer_order_quotationRevisionId_fkey" FOREIGN KEY ("quotationRevisionId") REFERENCES "quotation_revision"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "order_line" ADD CONSTRAINT "order_line_orderId_fkey" FOREIGN KEY ("orderId") REFERENCES "customer_order"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "order_line" ADD CONSTRAINT "order_line_partId_fkey" FOREIGN KEY ("partId") REFERENCES "part"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "order_line" ADD CONSTRAINT "order_line_recipeRevisionId_fkey" FOREIGN KEY ("recipeRevisionId") REFERENCES "recipe_revision"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "order_line" ADD CONSTRAINT "order_line_quotationLineId_fkey" FOREIGN KEY ("quotationLineId") REFERENCES "quotation_line"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "part" ADD CONSTRAINT "part_customerId_fkey" FOREIGN KEY ("customerId") REFERENCES "customer"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "part" ADD CONSTRAINT "part_materialId_fkey" FOREIGN KEY ("materialId") REFERENCES "material"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "part" ADD CONSTRAINT "part_successorId_fkey" FOREIGN KEY ("successorId") REFERENCES "part"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "part_file" ADD CONSTRAINT "part_file_partId_fkey" FOREIGN KEY ("partId") REFERENCES "part"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "part_file" ADD CONSTRAINT "part_file_fileId_fkey" FOREIGN KEY ("fileId") REFERENCES "file"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "measurement" ADD CONSTRAINT "measurement_fileId_fkey" FOREIGN KEY ("fileId") REFERENCES "file"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "sign_in" ADD CONSTRAINT "sign_in_personId_fkey" FOREIGN KEY ("personId") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "one_time_link" ADD CONSTRAINT "one_time_link_personId_fkey" FOREIGN KEY ("personId") REFERENCES "person"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "quotation" ADD CONSTRAINT "quotation_customerId_fkey" FOREIGN KEY ("customerId") REFERENCES "customer"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "quotation_revision" ADD CONSTRAINT "quotation_revision_quotationId_fkey" FOREIGN KEY ("quotationId") REFERENCES "quotation"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "quotation_revision" ADD CONSTRAINT "quotation_revision_rateCardId_fkey" FOREIGN KEY ("rateCardId") REFERENCES "rate_card"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "quotation_line" ADD CONSTRAINT "quotation_line_revisionId_fkey" FOREIGN KEY ("revisionId") REFERENCES "quotation_revision"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "quotation_line" ADD CONSTRAINT "quotation_line_partId_fkey" FOREIGN KEY ("partId") REFERENCES "part"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "quotation_line" ADD CONSTRAINT "quotation_line_recipeRevisionId_fkey" FOREIGN KEY ("recipeRevisionId") REFERENCES "recipe_revision"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "quotation_break" ADD CONSTRAINT "quotation_break_lineId_fkey" FOREIGN KEY ("lineId") REFERENCES "quotation_line"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "recipe_revision" ADD CONSTRAINT "recipe_revision_recipeId_fkey" FOREIGN KEY ("recipeId") REFERENCES "recipe"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "recipe_step" ADD CONSTRAINT "recipe_step_revisionId_fkey" FOREIGN KEY ("revisionId") REFERENCES "recipe_revision"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "file_chunk" ADD CONSTRAINT "file_chunk_fileId_fkey" FOREIGN KEY ("fileId") REFERENCES "file"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "bath" ADD CONSTRAINT "bath_tankId_fkey" FOREIGN KEY ("tankId") REFERENCES "tank"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "power_supply_tank" ADD CONSTRAINT "power_supply_tank_supplyId_fkey" FOREIGN KEY ("supplyId") REFERENCES "power_supply"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "power_supply_tank" ADD CONSTRAINT "power_supply_tank_tankId_fkey" FOREIGN KEY ("tankId") REFERENCES "tank"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "traveler" ADD CONSTRAINT "traveler_lotId_fkey" FOREIGN KEY ("lotId") REFERENCES "lot"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "traveler" ADD CONSTRAINT "traveler_reworkOfId_fkey" FOREIGN KEY ("reworkOfId") REFERENCES "traveler"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "traveler_step" ADD CONSTRAINT "traveler_step_travelerId_fkey" FOREIGN KEY ("travelerId") REFERENCES "traveler"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "step_sign_off" ADD CONSTRAINT "step_sign_off_stepId_fkey" FOREIGN KEY ("stepId") REFERENCES "traveler_step"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "step_sign_off" ADD CONSTRAINT "step_sign_off_bathId_fkey" FOREIGN KEY ("bathId") REFERENCES "bath"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "step_reading" ADD CONSTRAINT "step_reading_signOffId_fkey" FOREIGN KEY ("signOffId") REFERENCES "step_sign_off"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "step_correction" ADD CONSTRAINT "step_correction_signOffId_fkey" FOREIGN KEY ("signOffId") REFERENCES "step_sign_off"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
