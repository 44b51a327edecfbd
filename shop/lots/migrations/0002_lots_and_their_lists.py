from django.db import migrations


class Migration(migrations.Migration):
    dependencies = [("lots", "0001_initial")]

    operations = [
        migrations.RemoveConstraint("OfferLine", "offer_position_once"),
        migrations.RemoveConstraint("OfferLine", "offer_count_positive"),
        migrations.RenameModel("Offer", "Lot"),
        migrations.RenameModel("OfferLine", "LotLine"),
        migrations.RenameField("LotLine", "offer", "lot"),
    ]
