import Form from '@rjsf/core';
import type { RJSFSchema, UiSchema } from '@rjsf/utils';
import validator from '@rjsf/validator-ajv8';
import { createElement, useState } from 'react';
import { createRoot } from 'react-dom/client';
import type { FormPage } from './pages.ts';

/**
 * The daily check as one would build it with react-jsonschema-form: a page a
 * question, answers kept on the device at each step. It asks and keeps; it
 * judges nothing, and has no log, no help and no other language.
 */

/** Put in when the page is built. */
declare const PAGES: readonly FormPage[];
const KEPT = 'answers';

function Check() {
  const [at, setAt] = useState(0);
  const [answers, setAnswers] = useState<Record<number, unknown>>({});
  const page = PAGES[at];
  if (!page) return createElement('h1', null, 'Done');
  const next = (given: unknown) => {
    const all = { ...answers, [at]: given };
    localStorage.setItem(KEPT, JSON.stringify(all));
    setAnswers(all);
    setAt(at + 1);
  };
  return createElement(
    'main',
    null,
    createElement('p', null, `${at + 1} of ${PAGES.length}`),
    createElement('h1', null, page.ask),
    createElement(
      Form,
      {
        key: at,
        schema: page.schema as RJSFSchema,
        uiSchema: page.uiSchema as UiSchema,
        validator,
        showErrorList: false,
        onSubmit: ({ formData }: { formData?: unknown }) => next(formData),
      },
      createElement('button', { type: 'submit' }, 'Next'),
    ),
  );
}

const root = document.getElementById('root');
if (root) createRoot(root).render(createElement(Check));
