// Play a round to practise on: what follows an answer, what went well, and the result as a code. No page is needed here.
"use strict";

const LETTERS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";
const FIRST_DAY = Date.UTC(2024, 0, 1);
const DAY_MS = 86400000;

function sceneAfter(scenes, scene, choice) {
  const named = (choice && choice.to) || scene.then;
  if (named) return scenes.find((one) => one.id === named);
  return scenes.slice(scenes.indexOf(scene) + 1).find((one) => !one.detour) || null;
}

// Answers given in turn: the place of a choice, or the number keyed.
function play(scenario, given) {
  let at = scenario.scenes[0];
  const answers = given.map((one) => {
    const chosen = at.key ? null : at.choices[one];
    const answer = { scene: at, chosen, keyed: at.key ? one : "", isRight: at.key ? one === at.key : Boolean(chosen.right) };
    at = sceneAfter(scenario.scenes, at, chosen);
    return answer;
  });
  const wrong = new Set(answers.filter((one) => !one.isRight).map((one) => one.scene.theme));
  const met = new Set(answers.map((one) => one.scene.theme));
  const themes = scenario.themes.map((theme) => theme.id);
  return {
    answers,
    at,
    well: themes.filter((theme) => met.has(theme) && !wrong.has(theme)),
    notWell: themes.filter((theme) => wrong.has(theme)),
  };
}

// Edition, day, themes that went well and what was drawn, in 55 bits; the last letter checks (ISO/IEC 7064, hybrid).
function writeResult(scenario, well, day, drawn) {
  const days = Math.round((Date.UTC(day.getFullYear(), day.getMonth(), day.getDate()) - FIRST_DAY) / DAY_MS);
  const themes = scenario.themes.reduce((sum, theme, place) => sum + (well.includes(theme.id) ? 2 ** place : 0), 0);
  let bits = BigInt(scenario.edition);
  for (const [value, width] of [[days, 14n], [themes, 18n], [drawn, 18n]]) bits = (bits << width) | BigInt(value);
  let letters = "";
  for (let place = 10n; place >= 0n; place--) letters += LETTERS[Number((bits >> (5n * place)) & 31n)];
  letters += checkLetter(letters);
  return letters.match(/.{4}/g).join("-");
}

function checkLetter(letters) {
  const many = LETTERS.length;
  const doubled = (sum) => ((sum || many) * 2) % (many + 1);
  const sum = [...letters].reduce((before, letter) => (doubled(before) + LETTERS.indexOf(letter)) % many, many / 2);
  return LETTERS[(((1 - doubled(sum)) % many) + many) % many];
}
