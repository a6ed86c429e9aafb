"""The tables of the log."""

from django.db import models


class StoredEntry(models.Model):
    """One entry: the envelope in columns, the body as the bytes that were sent."""

    number = models.BigIntegerField(primary_key=True)  # in commit order, given under the writer's lock
    entry_id = models.CharField(max_length=36, unique=True)
    person = models.CharField(max_length=36, db_index=True)
    author = models.CharField(max_length=100)
    device = models.CharField(max_length=36)
    kind = models.CharField(max_length=30)
    schema = models.PositiveSmallIntegerField()
    hlc = models.CharField(max_length=24, db_index=True)
    wall_time = models.CharField(max_length=40)
    replaces = models.TextField()
    body = models.BinaryField()
    body_sha256 = models.BinaryField()
    received = models.CharField(max_length=40)

    class Meta:
        """Plain table name, kept when classes move."""

        db_table = "log_entry"


class SetAside(models.Model):
    """An entry whose id was known with another body: both are kept, this one waits for a person."""

    number = models.BigAutoField(primary_key=True)
    entry_id = models.CharField(max_length=36, db_index=True)
    envelope = models.TextField()
    body = models.BinaryField()
    received = models.CharField(max_length=40)

    class Meta:
        """Plain table name, kept when classes move."""

        db_table = "log_set_aside"


class ErasedPerson(models.Model):
    """Somebody whose entries were removed and stay out; no name stands here."""

    person = models.CharField(max_length=36, primary_key=True)
    erased_on = models.CharField(max_length=10)
    names = models.TextField()  # salted slow hashes
    entries = models.TextField()  # ids of entries of the house that named them
    latest_number = models.BigIntegerField()  # no number at or below is given again
    to_scrub = models.BooleanField()  # what was removed may still stand in freed space of the files

    class Meta:
        """Plain table name, kept when classes move."""

        db_table = "log_erased_person"
