"""Words for pay and rates. Common practice, no source."""

from __future__ import annotations

__all__ = ["OF_PAY"]

OF_PAY: dict[str, dict[str, str]] = {
    "amount": {
        "en": "amnt, amount, amt, dollars, eur, figure, gbp, money, salary, sum, usd, val, value",
        "es": "cantidad, cuantía, eur, euros, imp, importe, monto, mto, pesos, suma, val, valor",
        "de": "betr, betrag, chf, eur, euro, geldbetrag, höhe, summe, wert",
        "fr": "eur, euros, mnt, mont, montant, mt, somme, valeur",
        "pt": "euros, importância, mont, montante, quantia, reais, val, valor, valor hora, vl, vlr",
        "it": "ammontare, cifra, euro, imp, importo, somma, val, valore, valore orario",
        "nl": "bedr, bedrag, eur, euro, hoogte, som, waarde",
        "pl": "kw, kwota, pln, suma, wartość, wys, wysokość, zł, złotych",
    },
    "bonus": {
        "en": "award, bonus, incentive, premium",
        "es": "bono, gratificación, incentivo, plus, prima",
        "de": "bonus, gratifikation, prämie, zulage",
        "fr": "bonus, gratification, prime",
        "pt": "abono, bónus, bônus, gratificação, prémio, prêmio",
        "it": "bonus, gratifica, incentivo, premio",
        "nl": "bonus, gratificatie, premie, toeslag",
        "pl": "bonus, dodatek, nagroda, premia",
    },
    "covers": {
        "en": "contract hours, covered, covering, covers, hours covered, included",
        "es": "cubiertas, cubre, horas cubiertas, incluidas, incluye",
        "de": "abgedeckt, abgegolten, deckt, enthalten, umfasst",
        "fr": "comprises, couvertes, couvre, incluses",
        "pt": "abrangidas, cobertas, cobre, incluídas",
        "it": "comprese, coperte, copre, incluse",
        "nl": "dekt, gedekt, inbegrepen, omvat",
        "pl": "obejmuje, objęte, wliczone, zawarte",
    },
    "earned": {
        "en": "accrual, accrued, earned, earned in, earnings, gained",
        "es": "devengada, devengado, devengo, ganada, ganado, percibido, periodo de devengo",
        "de": "erarbeitet, erworben, leistung von, leistungszeitraum, verdient",
        "fr": "acquis, acquise, gagné, gagnée, période d acquisition",
        "pt": "adquirido, auferida, auferido, ganha, ganho",
        "it": "competenza, guadagnato, maturata, maturato, maturazione",
        "nl": "opgebouwd, verdiend, verdiende",
        "pl": "naliczono, wypracowane, wypracowano, zarobione, zarobiono, zarobiony",
    },
    "expiry": {
        "en": (
            "exp, exp date, exp dt, expiration, expires, expiry, expiry date, lapses, valid thru, valid to, valid until"
        ),
        "es": "caduca, caducidad, expira, expiración, fin de vigencia, vence, vencimiento, vto",
        "de": "ablauf, ablaufdatum, gültig bis, gültigkeitsende, läuft ab, verfall",
        "fr": "date de fin d effet, date limite, expiration, expire, éch, échéance, fin de validité, fin val",
        "pt": "caducidade, data final, expira, expiração, fim da vigência, validade até, vence, vencimento",
        "it": "fine validità, scad, scade, scadenza, termine validità",
        "nl": "einddatum geldigheid, geldig t m, verloopt, verv, vervaldatum, vervalt",
        "pl": "data ważności, koniec obowiązywania, termin ważności, upływa, wygasa, wygaśnięcie ważności",
    },
    "floor": {
        "en": "at least, floor, floor rate, guar, guarantee, guaranteed, least, min, minimum",
        "es": "gar, garantizada, garantizado, garantía, mín, mínima, mínimo, suelo",
        "de": "garantie, garantielohn, garantiert, mindest, mindestens, mindestlohn, minimum, untergrenze",
        "fr": "garanti, garantie, mini, minimum, minimum garanti, plancher",
        "pt": "garantia, garantida, garantido, mínima, mínimo, piso",
        "it": "garantita, garantito, garanzia, minima, minimo, minimo garantito",
        "nl": "garantie, gegarandeerd, gegarandeerde, minimaal, minimum, ondergrens",
        "pl": "gwarancja, gwarantowana, gwarantowane, min, minimalna, minimum",
    },
    "hourly": {
        "en": "/h, /hr, an hour, by hour, hour rate, hourly, hr rate, hr wage, hrly, per hour, per hr, usd h",
        "es": "hora, horaria, horario, la hora, por hora, x hora",
        "de": "die stunde, h, je stunde, pro stunde, std, stunde, stündlich",
        "fr": "à l heure, de l heure, h, heure, hor, horaire, par heure",
        "pt": "à hora, hora, horária, horário, p hora, por hora",
        "it": "all ora, h, or, ora, oraria, orario, per ora",
        "nl": "p u, per uur, u, uur",
        "pl": "godz, godzinowa, godzinowe, godzinowy, h, na godzinę, za godzinę",
    },
    "label": {
        "en": "called, caption, desc, descr, description, designation, label, text of pay, wording",
        "es": "denominación, descrip, descripción, detalle del concepto, etiqueta, leyenda",
        "de": "benennung, beschr, beschreibung, bez, bezeichn, bezeichnung, lohnarttext",
        "fr": "descr, description, désignation, intitulé, lib, libellé",
        "pt": "denominação, desc, descr, descrição, designação, rótulo",
        "it": "denominazione, descr, descrizione, dicitura, etichetta",
        "nl": "benaming, beschrijving, label, omschr, omschrijving",
        "pl": "etykieta, nazwa składnika, określenie, opis, treść",
    },
    "pay": {
        "en": "comp, compensation, paid, pay, payment, remuneration, wages paid",
        "es": "haberes, paga, pagado, pago, remuneración, retribución",
        "de": "auszahlung, besoldung, bezahlung, entgelt, vergüt, vergütung, zahlung",
        "fr": "paie, paiement, paye, payé, rém, rémunération, rétribution",
        "pt": "pagamento, pago, remun, remuneração, vencimento",
        "it": "compenso, emolumento, paga, pagamento, retribuzione",
        "nl": "beloning, betaald, betaling, bezoldiging, loon",
        "pl": "płaca, płatność, wyn, wynagrodzenie, wypłata, zapłata",
    },
    "pay_kind": {
        "en": (
            "earning, earning code, earning type, earnings code, kind of earning, kind of pay, pay code, pay "
            "component, pay element, pay item, wage code"
        ),
        "es": (
            "clave de concepto, concepto, concepto de nómina, concepto de pago, concepto salarial, rubro, tipo de "
            "devengo"
        ),
        "de": "bezugsart, entgeltart, la, lohnart, lohnartennummer, lohnbestandteil, zulagenart",
        "fr": "élément de paie, nature du gain, rubr, rubrique, rubrique de paie, type de prime",
        "pt": "evento de folha, provento, rubr, rubrica, tipo de provento, verba",
        "it": "causale di paga, competenze, elemento retributivo, voce, voce paga, voce retributiva",
        "nl": "looncode, looncomponent, loonsoort, salariscomponent, soort vergoeding",
        "pl": "kod składnika, rodzaj składnika, składnik, składnik płacy, składnik wynagrodzenia",
    },
    "plan": {
        "en": (
            "basis, kind of wage, method of pay, paid by, pay basis, pay plan, pay type, plan, rate basis, rate type, "
            "wage type"
        ),
        "es": (
            "base de cálculo, base de pago, forma de pago, forma de remuneración, modalidad, modalidad de pago, tipo "
            "de pago, tipo de salario"
        ),
        "de": (
            "abrechnungsart, bezahlungsart, entgeltart, entlohnungsart, entlohnungsform, lohnbasis, lohnform, "
            "vergütungsform"
        ),
        "fr": (
            "base de rémunération, forme de rémunération, mode de paie, mode de paiement, mode de rémunération, type "
            "de rémunération, type de salaire"
        ),
        "pt": (
            "base de pagamento, forma de pagamento, modalidade, modo de remuneração, tipo de remuneração, tipo de "
            "salário"
        ),
        "it": (
            "base di pagamento, forma di retribuzione, modalità di paga, modalità di retribuzione, tipo di "
            "retribuzione, tipo paga"
        ),
        "nl": "beloningsvorm, loonbasis, loontype, loonvorm, soort loon, wijze van betaling",
        "pl": "forma płacy, forma wynagrodzenia, podstawa płacy, rodzaj płacy, sposób wynagradzania, system płac",
    },
    "rate": {
        "en": (
            "base rate, base wage, basic rate, compensation rate, earnings rate, pay rate, rate, remuneration, rt, "
            "salary rate, straight time rate, tariff, wage, wage rate, wages, wg"
        ),
        "es": (
            "base salarial, coste, haber, jorn, jornal, precio, remuneración, retribución, sal, salario, sueldo, tar, "
            "tarifa, tasa"
        ),
        "de": (
            "ansatz, basislohn, bezahlung, ecklohn, entg, entgelt, gehaltssatz, grundlohn, l satz, lohn, lohnhöhe, "
            "lohnsatz, preis, satz, tarif, verdienst, vergütung, vergütungssatz"
        ),
        "fr": "appointement, base, paie, prix, rém, rémunération, sal, salaire, tarif, taux, traitement, tx",
        "pt": "ordenado, preço, remun, remuneração, sal, salário, tarifa, taxa, tx, valor base, vencimento",
        "it": (
            "comp, compenso, costo, paga, paga base, prezzo, retr, retribuzione, retribuzione base, salario, "
            "stipendio, tar, tariffa"
        ),
        "nl": (
            "basisl, basisloon, bezoldiging, loon, loonsatz, prijs, salaris, tar, tarief, trf, verdienste, vergoeding"
        ),
        "pl": (
            "cena, pł, płaca, st, staw, stawka, stawka zaszeregowania, taryfa, wyn, wynagrodzenie, zarobek, "
            "zaszeregowania, zaszeregowanie"
        ),
    },
    "unit": {
        "en": (
            "items made, jobs, output, parts made, pc, pcs, pieces, produced, qty, quant, quantity, unit, units, volume"
        ),
        "es": "cant, cantidad, encargos, piezas, producción, pza, pzas, trabajos, uds, unidades",
        "de": "aufträge, ausbringung, einheiten, menge, mengeneinheit, mge, stk, stück, stückzahl",
        "fr": "pce, pces, pièces, production, qté, quant, quantité, tâches, unités",
        "pt": "pçs, peças, produção, qtd, qtde, quantidade, serviços, tarefas, unidades",
        "it": "lavori, pezzi, produzione, pz, q tà, qta, qtà, quantità, unità",
        "nl": "aantal, eenheden, hoeveelheid, hvh, opdrachten, productie, st, stuk, stuks",
        "pl": "il, ilość, jednostki, produkcja, szt, sztuk, sztuka, sztuki, zlecenia",
    },
    "valid": {
        "en": (
            "appl, applicable, applies, applies from, as of, eff, effect, effective, effective date, in effect, in "
            "force, starting, val, valid, validity"
        ),
        "es": (
            "aplica, aplicable, aplicación, de efecto, efectivo, efecto, en vigor, entrada en vigor, rige, validez, "
            "vál, válida, válido, vig, vigencia, vigente, vigor"
        ),
        "de": (
            "anwendbar, geltend, geltung, gilt, gült, gültig, gültigkeit, gültigkeitsbeginn, in kraft, inkrafttreten, "
            "tritt in kraft, wirks, wirksam, wirksamkeit"
        ),
        "fr": (
            "appl, applicable, application, eff, effet, en vigueur, entrée en vigueur, prise d effet, val, valable, "
            "valide, validité, vigueur"
        ),
        "pt": (
            "aplica, aplicável, data de efeito, efeito, efetivo, em vigor, entrada em vigor, validade, vál, válida, "
            "válido, vig, vigente, vigência, vigor, vigora"
        ),
        "it": (
            "applicabile, dec, decorr, decorre, decorrenza, effetto, efficace, efficacia, in vigore, val, valida, "
            "validità, valido, vige, vigente, vigore"
        ),
        "nl": (
            "gaat in, geld, geldend, geldig, geldigheid, gld, ingaand, ingaande, ingang, ingangsdatum, van kracht, "
            "van toepassing"
        ),
        "pl": (
            "ob, obow, obowiązujący, obowiązuje, obowiązywania, stos, stosuje, w mocy, ważn, ważna, ważne, ważności, "
            "ważność, ważny, wejścia w życie, wejście w życie"
        ),
    },
}
