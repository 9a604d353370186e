-- Written by tools/migration.py from the tables of the register. A blank line ends a statement.

CREATE TABLE accounts (
    id VARCHAR(26) NOT NULL,
    sign_in VARCHAR(100) NOT NULL,
    name VARCHAR(100) NOT NULL,
    role VARCHAR(20) NOT NULL,
    site_ids TEXT,
    units VARCHAR(2) NOT NULL,
    is_active BOOLEAN NOT NULL,
    password_hash TEXT NOT NULL,
    created_utc TIMESTAMP WITH TIME ZONE NOT NULL,
    last_seen_utc TIMESTAMP WITH TIME ZONE,
    version INTEGER NOT NULL,
    CONSTRAINT pk_accounts PRIMARY KEY (id),
    CONSTRAINT uq_accounts_sign_in UNIQUE (sign_in)
);

CREATE TABLE audit (
    id VARCHAR(26) NOT NULL,
    at_utc TIMESTAMP WITH TIME ZONE NOT NULL,
    by VARCHAR(100) NOT NULL,
    by_id VARCHAR(100) NOT NULL,
    what VARCHAR(40) NOT NULL,
    about VARCHAR(200) NOT NULL,
    detail TEXT NOT NULL,
    CONSTRAINT pk_audit PRIMARY KEY (id)
);

CREATE TABLE failed_sign_ins (
    id VARCHAR(26) NOT NULL,
    at_utc TIMESTAMP WITH TIME ZONE NOT NULL,
    sign_in VARCHAR(100) NOT NULL,
    address VARCHAR(100) NOT NULL,
    CONSTRAINT pk_failed_sign_ins PRIMARY KEY (id)
);

CREATE INDEX ix_failed_sign_ins_at_utc ON failed_sign_ins (at_utc);

CREATE TABLE meters (
    id VARCHAR(26) NOT NULL,
    serial TEXT NOT NULL,
    name TEXT,
    meter TEXT NOT NULL,
    by TEXT NOT NULL,
    at_utc TIMESTAMP WITH TIME ZONE NOT NULL,
    version INTEGER NOT NULL,
    CONSTRAINT pk_meters PRIMARY KEY (id),
    CONSTRAINT uq_meters_serial UNIQUE (serial)
);

CREATE TABLE photographs (
    sha256 VARCHAR(64) NOT NULL,
    media_type VARCHAR(20) NOT NULL,
    size_bytes INTEGER NOT NULL,
    width_px INTEGER NOT NULL,
    height_px INTEGER NOT NULL,
    by VARCHAR(100) NOT NULL,
    at_utc TIMESTAMP WITH TIME ZONE NOT NULL,
    CONSTRAINT pk_photographs PRIMARY KEY (sha256)
);

CREATE TABLE search_texts (
    id BIGSERIAL NOT NULL,
    kind VARCHAR(8) NOT NULL,
    about_id VARCHAR(26) NOT NULL,
    site_id VARCHAR(26),
    title TEXT NOT NULL,
    place TEXT NOT NULL,
    body TEXT NOT NULL,
    words TEXT NOT NULL,
    CONSTRAINT pk_search_texts PRIMARY KEY (id),
    CONSTRAINT uq_search_texts_kind_about_id UNIQUE (kind, about_id)
);

CREATE INDEX ix_search_texts_site_id ON search_texts (site_id);

CREATE TABLE sites (
    id VARCHAR(26) NOT NULL,
    name TEXT NOT NULL,
    time_zone VARCHAR(64) NOT NULL,
    altitude_m FLOAT,
    address TEXT,
    version INTEGER NOT NULL,
    CONSTRAINT pk_sites PRIMARY KEY (id),
    CONSTRAINT uq_sites_name UNIQUE (name)
);

CREATE TABLE specs (
    id VARCHAR(26) NOT NULL,
    name TEXT NOT NULL,
    revision INTEGER NOT NULL,
    CONSTRAINT pk_specs PRIMARY KEY (id),
    CONSTRAINT uq_specs_name UNIQUE (name)
);

CREATE TABLE invitations (
    id VARCHAR(26) NOT NULL,
    secret_sha256 VARCHAR(64) NOT NULL,
    role VARCHAR(20) NOT NULL,
    site_ids TEXT,
    for_whom VARCHAR(100) NOT NULL,
    by VARCHAR(100) NOT NULL,
    at_utc TIMESTAMP WITH TIME ZONE NOT NULL,
    expires_utc TIMESTAMP WITH TIME ZONE NOT NULL,
    used_utc TIMESTAMP WITH TIME ZONE,
    used_by VARCHAR(100),
    is_withdrawn BOOLEAN NOT NULL,
    account_id VARCHAR(26),
    CONSTRAINT pk_invitations PRIMARY KEY (id),
    CONSTRAINT uq_invitations_secret_sha256 UNIQUE (secret_sha256),
    CONSTRAINT fk_invitations_account_id FOREIGN KEY(account_id) REFERENCES accounts (id)
);

CREATE TABLE notes (
    id VARCHAR(26) NOT NULL,
    about_kind VARCHAR(8) NOT NULL,
    about_id VARCHAR(26) NOT NULL,
    site_id VARCHAR(26),
    text TEXT NOT NULL,
    tags TEXT NOT NULL,
    by TEXT NOT NULL,
    at_utc TIMESTAMP WITH TIME ZONE NOT NULL,
    voided_by TEXT,
    voided_at_utc TIMESTAMP WITH TIME ZONE,
    CONSTRAINT pk_notes PRIMARY KEY (id),
    CONSTRAINT fk_notes_site_id FOREIGN KEY(site_id) REFERENCES sites (id)
);

CREATE INDEX ix_notes_about ON notes (about_kind, about_id, id);

CREATE TABLE photograph_links (
    id VARCHAR(26) NOT NULL,
    sha256 VARCHAR(64) NOT NULL,
    about_kind VARCHAR(20) NOT NULL,
    about_id VARCHAR(64) NOT NULL,
    by VARCHAR(100) NOT NULL,
    at_utc TIMESTAMP WITH TIME ZONE NOT NULL,
    CONSTRAINT pk_photograph_links PRIMARY KEY (id),
    CONSTRAINT uq_photograph_links_about_kind_about_id_sha256 UNIQUE (about_kind, about_id, sha256),
    CONSTRAINT fk_photograph_links_sha256 FOREIGN KEY(sha256) REFERENCES photographs (sha256)
);

CREATE INDEX ix_photograph_links_sha256 ON photograph_links (sha256);

CREATE TABLE pictures (
    sha256 VARCHAR(64) NOT NULL,
    content BYTEA NOT NULL,
    thumbnail BYTEA NOT NULL,
    CONSTRAINT pk_pictures PRIMARY KEY (sha256),
    CONSTRAINT fk_pictures_sha256 FOREIGN KEY(sha256) REFERENCES photographs (sha256)
);

CREATE TABLE sign_ins (
    id VARCHAR(26) NOT NULL,
    secret_sha256 VARCHAR(64) NOT NULL,
    account_id VARCHAR(26) NOT NULL,
    kind VARCHAR(10) NOT NULL,
    label VARCHAR(200) NOT NULL,
    created_utc TIMESTAMP WITH TIME ZONE NOT NULL,
    seen_utc TIMESTAMP WITH TIME ZONE NOT NULL,
    expires_utc TIMESTAMP WITH TIME ZONE NOT NULL,
    CONSTRAINT pk_sign_ins PRIMARY KEY (id),
    CONSTRAINT uq_sign_ins_secret_sha256 UNIQUE (secret_sha256),
    CONSTRAINT fk_sign_ins_account_id FOREIGN KEY(account_id) REFERENCES accounts (id)
);

CREATE INDEX ix_sign_ins_account_id ON sign_ins (account_id);

CREATE TABLE spec_revisions (
    id VARCHAR(26) NOT NULL,
    spec_id VARCHAR(26) NOT NULL,
    revision INTEGER NOT NULL,
    name TEXT NOT NULL,
    spec TEXT NOT NULL,
    title TEXT,
    page TEXT,
    photograph_sha256 VARCHAR(64),
    by TEXT NOT NULL,
    at_utc TIMESTAMP WITH TIME ZONE NOT NULL,
    checked_by TEXT,
    checked_at_utc TIMESTAMP WITH TIME ZONE,
    CONSTRAINT pk_spec_revisions PRIMARY KEY (id),
    CONSTRAINT uq_spec_revisions_spec_id_revision UNIQUE (spec_id, revision),
    CONSTRAINT fk_spec_revisions_spec_id FOREIGN KEY(spec_id) REFERENCES specs (id)
);

CREATE TABLE systems (
    id VARCHAR(26) NOT NULL,
    site_id VARCHAR(26) NOT NULL,
    name TEXT NOT NULL,
    refrigerant VARCHAR(16),
    installed INTEGER,
    is_heat_recovery BOOLEAN NOT NULL,
    version INTEGER NOT NULL,
    CONSTRAINT pk_systems PRIMARY KEY (id),
    CONSTRAINT uq_systems_site_id_name UNIQUE (site_id, name),
    CONSTRAINT fk_systems_site_id FOREIGN KEY(site_id) REFERENCES sites (id)
);

CREATE INDEX ix_systems_name_id ON systems (name, id);

CREATE TABLE units (
    id VARCHAR(26) NOT NULL,
    system_id VARCHAR(26) NOT NULL,
    name TEXT NOT NULL,
    kind VARCHAR(8) NOT NULL,
    position INTEGER NOT NULL,
    branch_unit TEXT,
    room TEXT,
    capacity_kw FLOAT,
    version INTEGER NOT NULL,
    CONSTRAINT pk_units PRIMARY KEY (id),
    CONSTRAINT uq_units_system_id_name UNIQUE (system_id, name),
    CONSTRAINT fk_units_system_id FOREIGN KEY(system_id) REFERENCES systems (id)
);

CREATE TABLE visits (
    id VARCHAR(26) NOT NULL,
    system_id VARCHAR(26) NOT NULL,
    identity TEXT NOT NULL,
    date DATE NOT NULL,
    technician TEXT,
    reason VARCHAR(32) NOT NULL,
    is_signed BOOLEAN NOT NULL,
    n_issues INTEGER NOT NULL,
    n_valves INTEGER NOT NULL,
    n_entries INTEGER NOT NULL,
    version INTEGER NOT NULL,
    added_utc TIMESTAMP WITH TIME ZONE NOT NULL,
    added_by TEXT NOT NULL,
    CONSTRAINT pk_visits PRIMARY KEY (id),
    CONSTRAINT uq_visits_system_id_identity UNIQUE (system_id, identity),
    CONSTRAINT fk_visits_system_id FOREIGN KEY(system_id) REFERENCES systems (id)
);

CREATE INDEX ix_visits_date_id ON visits (date, id);

CREATE INDEX ix_visits_system_id_date ON visits (system_id, date);

CREATE TABLE judgements (
    id VARCHAR(26) NOT NULL,
    visit_id VARCHAR(26) NOT NULL,
    at_utc TIMESTAMP WITH TIME ZONE NOT NULL,
    by TEXT NOT NULL,
    program VARCHAR(32) NOT NULL,
    priors_sha256 VARCHAR(64) NOT NULL,
    inputs_sha256 VARCHAR(64) NOT NULL,
    assessment TEXT NOT NULL,
    CONSTRAINT pk_judgements PRIMARY KEY (id),
    CONSTRAINT fk_judgements_visit_id FOREIGN KEY(visit_id) REFERENCES visits (id)
);

CREATE INDEX ix_judgements_visit_id ON judgements (visit_id);

CREATE TABLE valves (
    id VARCHAR(26) NOT NULL,
    system_id VARCHAR(26) NOT NULL,
    unit_id VARCHAR(26) NOT NULL,
    role VARCHAR(24) NOT NULL,
    number INTEGER NOT NULL,
    label TEXT NOT NULL,
    kind VARCHAR(8) NOT NULL,
    head VARCHAR(8),
    access VARCHAR(8),
    spec_id VARCHAR(26),
    version INTEGER NOT NULL,
    CONSTRAINT pk_valves PRIMARY KEY (id),
    CONSTRAINT uq_valves_unit_id_role_number UNIQUE (unit_id, role, number),
    CONSTRAINT uq_valves_system_id_label UNIQUE (system_id, label),
    CONSTRAINT fk_valves_system_id FOREIGN KEY(system_id) REFERENCES systems (id),
    CONSTRAINT fk_valves_unit_id FOREIGN KEY(unit_id) REFERENCES units (id),
    CONSTRAINT fk_valves_spec_id FOREIGN KEY(spec_id) REFERENCES specs (id)
);

CREATE INDEX ix_valves_label_id ON valves (label, id);

CREATE INDEX ix_valves_spec_id ON valves (spec_id);

CREATE TABLE visit_entries (
    visit_id VARCHAR(26) NOT NULL,
    seq INTEGER NOT NULL,
    id TEXT NOT NULL,
    path TEXT NOT NULL,
    position INTEGER NOT NULL,
    body TEXT NOT NULL,
    at_utc TIMESTAMP WITH TIME ZONE,
    device TEXT,
    by TEXT,
    voids TEXT,
    received_utc TIMESTAMP WITH TIME ZONE NOT NULL,
    CONSTRAINT pk_visit_entries PRIMARY KEY (visit_id, seq),
    CONSTRAINT uq_visit_entries_visit_id_id UNIQUE (visit_id, id),
    CONSTRAINT fk_visit_entries_visit_id FOREIGN KEY(visit_id) REFERENCES visits (id)
);

CREATE TABLE visit_files (
    id VARCHAR(26) NOT NULL,
    visit_id VARCHAR(26) NOT NULL,
    name TEXT NOT NULL,
    sha256 VARCHAR(64) NOT NULL,
    entry_ids TEXT NOT NULL,
    at_utc TIMESTAMP WITH TIME ZONE NOT NULL,
    by TEXT NOT NULL,
    CONSTRAINT pk_visit_files PRIMARY KEY (id),
    CONSTRAINT fk_visit_files_visit_id FOREIGN KEY(visit_id) REFERENCES visits (id)
);

CREATE INDEX ix_visit_files_sha256 ON visit_files (sha256);

CREATE INDEX ix_visit_files_visit_id ON visit_files (visit_id);

CREATE TABLE actions (
    id VARCHAR(26) NOT NULL,
    valve_id VARCHAR(26) NOT NULL,
    site_id VARCHAR(26) NOT NULL,
    system_id VARCHAR(26) NOT NULL,
    visit_id VARCHAR(26) NOT NULL,
    action VARCHAR(32) NOT NULL,
    why TEXT NOT NULL,
    since DATE NOT NULL,
    asked DATE NOT NULL,
    urgency VARCHAR(16) NOT NULL,
    urgency_rank INTEGER NOT NULL,
    meanwhile VARCHAR(32) NOT NULL,
    parts TEXT,
    state VARCHAR(8) NOT NULL,
    CONSTRAINT pk_actions PRIMARY KEY (id),
    CONSTRAINT fk_actions_valve_id FOREIGN KEY(valve_id) REFERENCES valves (id),
    CONSTRAINT fk_actions_site_id FOREIGN KEY(site_id) REFERENCES sites (id),
    CONSTRAINT fk_actions_system_id FOREIGN KEY(system_id) REFERENCES systems (id),
    CONSTRAINT fk_actions_visit_id FOREIGN KEY(visit_id) REFERENCES visits (id)
);

CREATE INDEX ix_actions_site_id_state ON actions (site_id, state, urgency_rank);

CREATE INDEX ix_actions_state_urgency_rank ON actions (state, urgency_rank, since, id);

CREATE INDEX ix_actions_system_id_state ON actions (system_id, state);

CREATE INDEX ix_actions_valve_id_state ON actions (valve_id, state);

CREATE TABLE heads (
    id VARCHAR(26) NOT NULL,
    valve_id VARCHAR(26) NOT NULL,
    since DATE,
    until DATE,
    part_label TEXT,
    is_present BOOLEAN NOT NULL,
    CONSTRAINT pk_heads PRIMARY KEY (id),
    CONSTRAINT fk_heads_valve_id FOREIGN KEY(valve_id) REFERENCES valves (id)
);

CREATE INDEX ix_heads_valve_id ON heads (valve_id);

CREATE TABLE issues (
    id VARCHAR(26) NOT NULL,
    visit_id VARCHAR(26) NOT NULL,
    number INTEGER NOT NULL,
    at_utc TIMESTAMP WITH TIME ZONE NOT NULL,
    by TEXT NOT NULL,
    inputs_sha256 VARCHAR(64) NOT NULL,
    program VARCHAR(32) NOT NULL,
    priors_sha256 VARCHAR(64) NOT NULL,
    judgement_id VARCHAR(26) NOT NULL,
    last_seq INTEGER NOT NULL,
    changes TEXT NOT NULL,
    CONSTRAINT pk_issues PRIMARY KEY (id),
    CONSTRAINT uq_issues_visit_id_number UNIQUE (visit_id, number),
    CONSTRAINT fk_issues_visit_id FOREIGN KEY(visit_id) REFERENCES visits (id),
    CONSTRAINT fk_issues_judgement_id FOREIGN KEY(judgement_id) REFERENCES judgements (id)
);

CREATE TABLE verdicts (
    valve_id VARCHAR(26) NOT NULL,
    visit_id VARCHAR(26) NOT NULL,
    judgement_id VARCHAR(26) NOT NULL,
    date DATE NOT NULL,
    is_now BOOLEAN NOT NULL,
    mark VARCHAR(16) NOT NULL,
    word_code VARCHAR(64) NOT NULL,
    cause VARCHAR(32),
    probability FLOAT,
    action VARCHAR(32) NOT NULL,
    urgency VARCHAR(16) NOT NULL,
    meanwhile VARCHAR(32) NOT NULL,
    because TEXT NOT NULL,
    winding_verdict VARCHAR(16) NOT NULL,
    CONSTRAINT pk_verdicts PRIMARY KEY (valve_id, visit_id),
    CONSTRAINT fk_verdicts_valve_id FOREIGN KEY(valve_id) REFERENCES valves (id),
    CONSTRAINT fk_verdicts_visit_id FOREIGN KEY(visit_id) REFERENCES visits (id),
    CONSTRAINT fk_verdicts_judgement_id FOREIGN KEY(judgement_id) REFERENCES judgements (id)
);

CREATE INDEX ix_verdicts_now ON verdicts (valve_id, mark) WHERE is_now;

CREATE INDEX ix_verdicts_now_mark ON verdicts (mark, valve_id) WHERE is_now;

CREATE INDEX ix_verdicts_visit_id ON verdicts (visit_id);

CREATE TABLE visit_valves (
    visit_id VARCHAR(26) NOT NULL,
    label TEXT NOT NULL,
    valve_id VARCHAR(26) NOT NULL,
    CONSTRAINT pk_visit_valves PRIMARY KEY (visit_id, label),
    CONSTRAINT fk_visit_valves_visit_id FOREIGN KEY(visit_id) REFERENCES visits (id),
    CONSTRAINT fk_visit_valves_valve_id FOREIGN KEY(valve_id) REFERENCES valves (id)
);

CREATE INDEX ix_visit_valves_valve_id ON visit_valves (valve_id);

CREATE TABLE findings (
    id VARCHAR(26) NOT NULL,
    action_id VARCHAR(26) NOT NULL,
    cause VARCHAR(32) NOT NULL,
    seen_by TEXT NOT NULL,
    how VARCHAR(16) NOT NULL,
    proof_kind VARCHAR(16),
    proof_result VARCHAR(8),
    photograph_sha256 VARCHAR(64),
    note TEXT,
    date DATE NOT NULL,
    by TEXT NOT NULL,
    at_utc TIMESTAMP WITH TIME ZONE NOT NULL,
    CONSTRAINT pk_findings PRIMARY KEY (id),
    CONSTRAINT fk_findings_action_id FOREIGN KEY(action_id) REFERENCES actions (id)
);

CREATE INDEX ix_findings_action_id ON findings (action_id, id);

CREATE TABLE issue_files (
    issue_id VARCHAR(26) NOT NULL,
    suffix VARCHAR(8) NOT NULL,
    sha256 VARCHAR(64) NOT NULL,
    content BYTEA NOT NULL,
    CONSTRAINT pk_issue_files PRIMARY KEY (issue_id, suffix),
    CONSTRAINT fk_issue_files_issue_id FOREIGN KEY(issue_id) REFERENCES issues (id)
);

CREATE TABLE winding_points (
    valve_id VARCHAR(26) NOT NULL,
    visit_id VARCHAR(26) NOT NULL,
    wire_a TEXT NOT NULL,
    wire_b TEXT NOT NULL,
    date DATE NOT NULL,
    head_id VARCHAR(26),
    ohm_at_spec FLOAT,
    u_ohm FLOAT,
    verdict VARCHAR(16) NOT NULL,
    meter_serial TEXT,
    CONSTRAINT pk_winding_points PRIMARY KEY (valve_id, visit_id, wire_a, wire_b),
    CONSTRAINT fk_winding_points_valve_id FOREIGN KEY(valve_id) REFERENCES valves (id),
    CONSTRAINT fk_winding_points_visit_id FOREIGN KEY(visit_id) REFERENCES visits (id),
    CONSTRAINT fk_winding_points_head_id FOREIGN KEY(head_id) REFERENCES heads (id)
);

CREATE INDEX ix_winding_points_visit_id ON winding_points (visit_id);

CREATE FUNCTION search_lexemes(kind text, words text) RETURNS tsvector LANGUAGE sql IMMUTABLE PARALLEL SAFE AS $$ SELECT array_to_tsvector(ARRAY(SELECT kind || '=' || left(word, n) FROM unnest(string_to_array(words, ' ')) AS word, unnest('{1,2,3,4,5,6,7,8,64}'::int[]) AS n WHERE word <> '')) $$;

ALTER TABLE search_texts ADD COLUMN word_vector tsvector GENERATED ALWAYS AS (search_lexemes(kind, words)) STORED;

CREATE INDEX search_index ON search_texts USING gin (word_vector);
