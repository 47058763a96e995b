"""Words for consent, and for its forms. Common practice, no source."""

from __future__ import annotations

__all__ = ["OF_CONSENT"]

OF_CONSENT: dict[str, dict[str, str]] = {
    "consent": {
        "en": (
            "agr, agreed, agreed on, agreement, agreement date, agreement signed, approval given, assent, "
            "authorisation for hand, cons, consent, consented, consented on, consents, opt in, opted in, permission "
            "given, release"
        ),
        "es": (
            "acept, acepta, acepta el, aceptación, aceptó, acuerdo, anuencia, autorización biométrica, conformidad, "
            "cons, consent, consentido, consentimiento, consintió, consintió el, da su consentimiento"
        ),
        "de": (
            "eingewilligt, einverst, einverstanden, einverständnis, einw, einwilligung, einwilligungserklärung, "
            "erklärung, willigt ein, zugestimmt, zust, zustimmung"
        ),
        "fr": "acceptation, accepte, accepté, accord, agrément, cons, consent, consentant, consentement, consenti",
        "pt": (
            "aceit, aceitação, aceite, acordo, anuência, autorização, autorização biométrica, autorizado em, "
            "concorda, concordância, cons, consentido, consentimento, consentiu, consentiu em, termo"
        ),
        "it": (
            "accettato, accettazione, acconsente, acconsente dal, accordo, aderito, ades, adesione, assenso, "
            "benestare, cons, consenso, consentito"
        ),
        "nl": (
            "akk, akkoord, akkoordverklaring, gaat akkoord, ingestemd, instemming, stemt in, toest, toestemming, "
            "toestemmingsverklaring"
        ),
        "pl": (
            "akc, akceptacja, akceptacji, oświadczenie, przyzwolenie, wyraził zgodę, wyrażenia zgody, wyrażona zgoda, "
            "zg, zgoda, zgodę, zgody, zgodził się, zgodziła się"
        ),
    },
    "form": {
        "en": (
            "consent form, doc, document, document version, edition, form, form ed, form edition, form no, form used, "
            "form version, frm, notice, notice version, paper, policy version, template form, text version, ver, "
            "vers, version, which form"
        ),
        "es": (
            "doc, documento, folio, form, formato, formulario, hoja, impreso, mod, modelo, plantilla, texto, vers, "
            "versión"
        ),
        "de": (
            "ausgabe, blatt, bogen, dok, dokument, erklärung nr, fassung, form, formbl, formblatt, formular, muster, "
            "textfassung, unterlage, vers, version, vordr, vordruck"
        ),
        "fr": (
            "doc, document, édition, fiche, form, formulaire, imprimé, mod, modèle, notice, texte, ver, vers, version"
        ),
        "pt": (
            "doc, documento, ficha de consentimento, form, formulário, impr, impresso, minuta, mod, modelo, termo, "
            "texto, vers, versão"
        ),
        "it": (
            "doc, documento, formulario, informativa, mod, modello, modulo, scheda consenso, stampato, testo, vers, "
            "versione"
        ),
        "nl": "blad, doc, document, form, formul, formulier, model, tekst, verklaring, vers, versie",
        "pl": "blankiet, dok, dokument, druk, form, formularz, oświadczenie nr, treść, wer, wersja, wzór",
    },
    "signed": {
        "en": "agreed, form signed, given, given on, granted on, sgd, sig, sign, signature, signed, signed on",
        "es": "dado, fir, firm, firma, firmada, firmado, firmó, otorgada, otorgado, otorgó, rubricado, suscrito",
        "de": (
            "abgegeben, erteilt, erteilung, gegeben, gezeichnet, unterschr, unterschrieben, unterschrift, unterz, "
            "unterzeichnet"
        ),
        "fr": "accordé, donné, donnée, paraphé, sign, signature, signé, signée",
        "pt": "assin, assinada, assinado, assinatura, concedida, concedido, dado, deu, firmado, subscrito",
        "it": "concesso, dato, firma, firmata, firmato, prestato, rilasciata, rilasciato, sottoscritto, sottoscrizione",
        "nl": (
            "gegeven, getek, getekend, handtekening, heeft getekend, ondert, ondertekend, ondertekening, tekening, "
            "verleend"
        ),
        "pl": "podp, podpis, podpisania, podpisano, podpisany, udzielenia, udzielono, wyrażono, złożenia, złożono",
    },
    "withdrawn": {
        "en": (
            "annulled, canc, canceled, cancellation, cancelled, consent ended, consent over, consent taken back, no "
            "longer consents, opt out, opted out, rescinded, retracted, revocation, revoke, revoked, taken back, "
            "wdrn, withdr, withdrawal, withdrawn, withdrawn on, withdrew"
        ),
        "es": (
            "anul, anulación, anulada, anulado, baja del consentimiento, cancelación, cancelado, desistimiento, "
            "rescindido, ret, retirada, retirado, retiro, retiro de consentimiento, revoc, revoca, revocación, "
            "revocada, revocado"
        ),
        "de": (
            "annulliert, aufgehoben, entzogen, gestrichen, rücknahme, rückzug, storniert, widerr, widerruf, "
            "widerrufen, widerrufsdatum, zurückg, zurückgenommen, zurückgezogen"
        ),
        "fr": (
            "annul, annulation, annulé, annulée, dédit, opposition, retiré, retirée, retr, retrait, résilié, rév, "
            "révocation, révoqué, révoquée"
        ),
        "pt": (
            "anul, anulação, anulado, cancelado, cancelamento, desistência, desistiu, rescindido, ret, retirada, "
            "retirado, revog, revogação, revogada, revogado"
        ),
        "it": (
            "ann, annullamento, annullata, annullato, disdetto, opposizione, recesso, rev, revoca, revocata, "
            "revocato, ritirata, ritirato, ritiro"
        ),
        "nl": (
            "geannuleerd, herr, herroepen, herroeping, ingetr, ingetrokken, intr, intrek, intrekking, opgezegd, "
            "teruggetrokken, vervallen"
        ),
        "pl": (
            "anulowania, anulowano, cofn, cofnięcia, cofnięcie, cofnięta, cofnięto, odwołana, odwołania, odwołano, "
            "unieważniono, wycof, wycofana, wycofania, wycofanie, wycofano, wycofany"
        ),
    },
}
