export { makeFirstArticle } from './first-article.ts';
export { finalCheck, shipLots } from './inspection.ts';
