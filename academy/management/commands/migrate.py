"""Django's own command; each step is noted in the transaction that makes it."""

from django.core.management.commands import migrate

from academy.migrating import WholeMigrations

# The command knows its executor by this name of its module only.
migrate.MigrationExecutor = WholeMigrations


class Command(migrate.Command):
    __doc__ = migrate.Command.__doc__
