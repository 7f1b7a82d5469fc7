"""Schools, people and their classes."""

import sqlalchemy as sa
from alembic import op

revision = "r0001"
down_revision = None
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "failed_tries",
        sa.Column("key", sa.Text(), nullable=False),
        sa.Column("failures", sa.Integer(), nullable=False),
        sa.Column("last_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("wait_until", sa.DateTime(timezone=True), nullable=False),
        sa.PrimaryKeyConstraint("key", name=op.f("pk_failed_tries")),
    )
    op.create_table(
        "schools",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("timezone", sa.Text(), nullable=False),
        sa.Column("locale", sa.Text(), nullable=False),
        sa.Column("created_at", sa.DateTime(timezone=True), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_schools")),
    )
    op.create_table(
        "people",
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("sign_in_name", sa.Text(), nullable=True),
        sa.Column("password_hash", sa.Text(), nullable=True),
        sa.Column("created_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("school_id", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(["school_id"], ["schools.id"], name=op.f("fk_people_school_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_people")),
        sa.UniqueConstraint("school_id", "id", name=op.f("uq_people_school_id_id")),
        sa.UniqueConstraint(
            "school_id", "sign_in_name", name=op.f("uq_people_school_id_sign_in_name")
        ),
    )
    op.create_table(
        "person_roles",
        sa.Column("school_id", sa.Integer(), nullable=False),
        sa.Column("person_id", sa.Integer(), nullable=False),
        sa.Column("role", sa.Text(), nullable=False),
        sa.CheckConstraint(
            "role IN ('instructor', 'storekeeper', 'student')",
            name=op.f("ck_person_roles_known_role"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id", "person_id"],
            ["people.school_id", "people.id"],
            name=op.f("fk_person_roles_school_id_person_id"),
        ),
        sa.PrimaryKeyConstraint("school_id", "person_id", "role", name=op.f("pk_person_roles")),
    )
    op.create_table(
        "courses",
        sa.Column("title", sa.Text(), nullable=False),
        sa.Column("created_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("school_id", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(["school_id"], ["schools.id"], name=op.f("fk_courses_school_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_courses")),
        sa.UniqueConstraint("school_id", "id", name=op.f("uq_courses_school_id_id")),
        sa.UniqueConstraint("school_id", "title", name=op.f("uq_courses_school_id_title")),
    )
    op.create_table(
        "class_sessions",
        sa.Column("course_id", sa.Integer(), nullable=False),
        sa.Column("title", sa.Text(), nullable=False),
        sa.Column("on", sa.Date(), nullable=False),
        sa.Column("timezone", sa.Text(), nullable=False),
        sa.Column("status", sa.Text(), nullable=False),
        sa.Column("join_code", sa.Text(), nullable=True),
        sa.Column("opened_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("closed_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("instructor_id", sa.Integer(), nullable=False),
        sa.Column("created_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("school_id", sa.Integer(), nullable=False),
        sa.CheckConstraint(
            "(status = 'open') = (join_code IS NOT NULL)",
            name=op.f("ck_class_sessions_code_while_open"),
        ),
        sa.CheckConstraint(
            "status IN ('draft', 'open', 'closed')", name=op.f("ck_class_sessions_known_status")
        ),
        sa.ForeignKeyConstraint(
            ["school_id", "course_id"],
            ["courses.school_id", "courses.id"],
            name=op.f("fk_class_sessions_school_id_course_id"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id", "instructor_id"],
            ["people.school_id", "people.id"],
            name=op.f("fk_class_sessions_school_id_instructor_id"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id"], ["schools.id"], name=op.f("fk_class_sessions_school_id")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_class_sessions")),
        sa.UniqueConstraint("join_code", name=op.f("uq_class_sessions_join_code")),
        sa.UniqueConstraint("school_id", "id", name=op.f("uq_class_sessions_school_id_id")),
    )
    op.create_table(
        "scenario_versions",
        sa.Column("slug", sa.Text(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("digest", sa.Text(), nullable=False),
        sa.Column("title", sa.Text(), nullable=False),
        sa.Column("level", sa.Text(), nullable=False),
        sa.Column("method", sa.Text(), nullable=False),
        sa.Column("task_count", sa.Integer(), nullable=False),
        sa.Column("document", sa.Text(), nullable=False),
        sa.Column("source", sa.Text(), nullable=False),
        sa.Column("solver_version", sa.Text(), nullable=False),
        sa.Column("loaded_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("loaded_by", sa.Integer(), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("school_id", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["school_id", "loaded_by"],
            ["people.school_id", "people.id"],
            name=op.f("fk_scenario_versions_school_id_loaded_by"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id"], ["schools.id"], name=op.f("fk_scenario_versions_school_id")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_scenario_versions")),
        sa.UniqueConstraint("school_id", "id", name=op.f("uq_scenario_versions_school_id_id")),
        sa.UniqueConstraint(
            "school_id", "slug", "number", name=op.f("uq_scenario_versions_school_id_slug_number")
        ),
    )
    op.create_table(
        "class_scenarios",
        sa.Column("class_session_id", sa.Integer(), nullable=False),
        sa.Column("scenario_version_id", sa.Integer(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("school_id", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["school_id", "class_session_id"],
            ["class_sessions.school_id", "class_sessions.id"],
            name=op.f("fk_class_scenarios_school_id_class_session_id"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id", "scenario_version_id"],
            ["scenario_versions.school_id", "scenario_versions.id"],
            name=op.f("fk_class_scenarios_school_id_scenario_version_id"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id"], ["schools.id"], name=op.f("fk_class_scenarios_school_id")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_class_scenarios")),
        sa.UniqueConstraint(
            "class_session_id",
            "position",
            name=op.f("uq_class_scenarios_class_session_id_position"),
        ),
        sa.UniqueConstraint(
            "class_session_id",
            "scenario_version_id",
            name=op.f("uq_class_scenarios_class_session_id_scenario_version_id"),
        ),
        sa.UniqueConstraint("school_id", "id", name=op.f("uq_class_scenarios_school_id_id")),
    )
    op.create_table(
        "enrolments",
        sa.Column("class_session_id", sa.Integer(), nullable=False),
        sa.Column("person_id", sa.Integer(), nullable=False),
        sa.Column("name_key", sa.Text(), nullable=False),
        sa.Column("return_code_hash", sa.Text(), nullable=False),
        sa.Column("joined_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("school_id", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["school_id", "class_session_id"],
            ["class_sessions.school_id", "class_sessions.id"],
            name=op.f("fk_enrolments_school_id_class_session_id"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id", "person_id"],
            ["people.school_id", "people.id"],
            name=op.f("fk_enrolments_school_id_person_id"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id"], ["schools.id"], name=op.f("fk_enrolments_school_id")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_enrolments")),
        sa.UniqueConstraint(
            "class_session_id", "name_key", name=op.f("uq_enrolments_class_session_id_name_key")
        ),
        sa.UniqueConstraint("school_id", "id", name=op.f("uq_enrolments_school_id_id")),
    )
    op.create_table(
        "sign_ins",
        sa.Column("person_id", sa.Integer(), nullable=False),
        sa.Column("enrolment_id", sa.Integer(), nullable=True),
        sa.Column("token_hash", sa.Text(), nullable=False),
        sa.Column("created_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("seen_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("expires_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("ended_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("school_id", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["school_id", "enrolment_id"],
            ["enrolments.school_id", "enrolments.id"],
            name=op.f("fk_sign_ins_school_id_enrolment_id"),
        ),
        sa.ForeignKeyConstraint(
            ["school_id", "person_id"],
            ["people.school_id", "people.id"],
            name=op.f("fk_sign_ins_school_id_person_id"),
        ),
        sa.ForeignKeyConstraint(["school_id"], ["schools.id"], name=op.f("fk_sign_ins_school_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_sign_ins")),
        sa.UniqueConstraint("token_hash", name=op.f("uq_sign_ins_token_hash")),
    )
    op.create_index(op.f("ix_sign_ins_school_id_person_id"), "sign_ins", ["school_id", "person_id"])


def downgrade() -> None:
    op.drop_table("sign_ins")
    op.drop_table("enrolments")
    op.drop_table("class_scenarios")
    op.drop_table("scenario_versions")
    op.drop_table("class_sessions")
    op.drop_table("courses")
    op.drop_table("person_roles")
    op.drop_table("people")
    op.drop_table("schools")
    op.drop_table("failed_tries")
