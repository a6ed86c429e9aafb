from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("store", "0001_the_log")]

    operations = [
        migrations.CreateModel(
            name="ErasedPerson",
            fields=[
                ("person", models.CharField(max_length=36, primary_key=True, serialize=False)),
                ("erased_on", models.CharField(max_length=10)),
                ("names", models.TextField()),
                ("entries", models.TextField()),
                ("latest_number", models.BigIntegerField()),
                ("to_scrub", models.BooleanField()),
            ],
            options={
                "db_table": "log_erased_person",
            },
        ),
    ]
